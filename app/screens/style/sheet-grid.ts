import { css } from 'lit'

/** The hook-up sheet: rows of parts against columns of lamps, heads that stay while the rest rolls. */
export const sheetGrid = css`
  :host {
    display: block;
    min-width: 0;
  }
  .roll {
    overflow: auto;
    max-height: min(36rem, 64vh);
    border: 1px solid var(--bar-strong);
    background: var(--pane);
  }
  table {
    border-collapse: separate;
    border-spacing: 0;
  }
  th,
  td {
    border-bottom: 1px solid var(--bar);
    border-right: 1px solid var(--bar);
    background: var(--pane);
    padding: 0;
  }
  thead th {
    position: sticky;
    top: 0;
    z-index: 2;
    vertical-align: bottom;
    font-family: var(--plate-serif);
    font-style: italic;
    font-weight: 400;
    border-bottom-color: var(--bar-strong);
  }
  thead th.corner {
    left: 0;
    z-index: 3;
    padding: 0.6rem;
    text-align: left;
    font-family: inherit;
    font-style: normal;
    color: var(--paper-soft);
    vertical-align: bottom;
  }
  .lamp-name {
    writing-mode: vertical-rl;
    transform: rotate(180deg);
    max-height: 9.5rem;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    padding: 0.6rem 0;
    margin: 0 auto;
    text-align: left;
  }
  tbody th {
    position: sticky;
    left: 0;
    z-index: 1;
    text-align: left;
    font-weight: 400;
    min-width: 13.5rem;
    max-width: 13.5rem;
    border-right-color: var(--bar-strong);
  }
  tbody th a {
    display: block;
    padding: 0.5rem 0.6rem;
    color: var(--paper);
    text-decoration: none;
    font-size: 0.8125rem;
    line-height: 1.3;
    outline-offset: -3px;
  }
  tbody tr.chosen th {
    box-shadow: none;
    border-left: 4px solid var(--light);
  }
  .part-name {
    display: flex;
    justify-content: space-between;
    gap: 0.6em;
    font-size: 1.0625rem;
  }
  .part-name em {
    font-family: var(--plate-serif);
    text-decoration: underline;
    text-decoration-color: var(--bar-strong);
    text-underline-offset: 0.2em;
    overflow-wrap: anywhere;
  }
  .line {
    display: block;
    color: var(--paper-soft);
    overflow-wrap: anywhere;
  }
  td button {
    display: grid;
    place-items: center;
    width: 2.8125rem;
    min-height: 3.25rem;
    height: 100%;
    padding: 0;
    border: 0;
    background: none;
    outline-offset: -3px;
  }
  td button[aria-pressed='true'] {
    background: none;
    color: var(--paper);
  }
  td button::before {
    content: '';
    width: 4px;
    height: 4px;
    border-radius: 50%;
    background: var(--bar-strong);
  }
  td button[aria-pressed='true']::before {
    content: none;
  }
  .disc {
    display: grid;
    place-items: center;
    width: 2.25rem;
    height: 2.25rem;
    border-radius: 50%;
    border: 1.5px solid var(--bar-strong);
    background: var(--pane-raised);
    font-size: 1.125rem;
    font-variant-numeric: tabular-nums;
  }
  /* Drawn, not written: the name of the cell says it in words. */
  .disc::before {
    content: attr(data-place);
  }
  .disc.shared {
    border-style: dashed;
    border-color: var(--paper-soft);
  }
  .disc.claimed {
    border: 4px double var(--paper);
  }
  .disc.taken {
    border: 2.5px dotted var(--paper-soft);
  }
  td.kept .disc {
    outline: 2px dashed var(--paper);
    outline-offset: 2px;
  }
  td.lit .disc {
    outline: 3px solid var(--light);
    outline-offset: 1px;
  }
  .legend {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem 1.2rem;
    margin: 0.6rem 0 0;
    padding: 0;
    list-style: none;
    color: var(--paper-soft);
    font-size: 0.875rem;
  }
  .legend li {
    display: flex;
    align-items: center;
    gap: 0.45em;
  }
  .legend .disc {
    width: 1.5rem;
    height: 1.5rem;
    font-size: 0.8125rem;
    color: var(--paper);
  }
  .legend .lit-mark {
    outline: 3px solid var(--light);
    outline-offset: 1px;
    margin: 0 3px;
  }
  .legend .kept-mark {
    outline: 2px dashed var(--paper);
    outline-offset: 1px;
    margin: 0 3px;
  }
  .fault {
    color: var(--grave);
    margin: 0.5rem 0 0;
  }
`
