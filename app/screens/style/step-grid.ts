import { css } from 'lit'

/** Rows of steps: heads that stay while the steps roll, marks that can be told without colour and from two metres. */
export const stepGrid = css`
  :host {
    display: block;
    min-width: 0;
  }
  .roll {
    overflow: auto;
    max-height: min(44rem, 72vh);
    border: 1px solid var(--bar-strong);
    background: var(--pane);
    outline-offset: -3px;
  }
  table {
    border-collapse: separate;
    border-spacing: 0;
  }
  th,
  td {
    padding: 0;
    height: 1px;
    background: var(--pane);
    border-bottom: 1px solid var(--bar);
    font-weight: 400;
    text-align: left;
  }
  thead th {
    position: sticky;
    top: 0;
    z-index: 2;
    height: 1.9rem;
    color: var(--paper-soft);
    text-align: center;
    font-variant-numeric: tabular-nums;
    border-bottom-color: var(--bar-strong);
  }
  thead th.corner {
    left: 0;
    z-index: 3;
    padding: 0 0.7rem;
    text-align: left;
  }
  tbody th {
    position: sticky;
    left: 0;
    z-index: 1;
    min-width: 13.5rem;
    max-width: 13.5rem;
    border-right: 1px solid var(--bar-strong);
  }
  .head {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 0.1rem 0.5rem;
    align-items: center;
    padding: 0.25rem 0.4rem 0.25rem 0.7rem;
  }
  .head em {
    font: italic 500 1.125rem/1.15 var(--plate-serif);
    overflow-wrap: anywhere;
  }
  .where {
    color: var(--paper-soft);
    font-size: 1rem;
    font-variant-numeric: tabular-nums;
  }
  .where b {
    display: inline-block;
    min-width: 0.6em;
    font-size: 1.5rem;
    line-height: 1;
    font-weight: 700;
    color: var(--paper);
    text-align: right;
  }
  .head button {
    grid-column: 2;
    grid-row: 1 / 3;
    padding: 0 0.5em;
    min-width: 3.75rem;
    font-size: 0.875rem;
  }
  .head button[aria-pressed='true'] {
    background: none;
    color: var(--paper);
    border: 3px double var(--paper);
  }
  td button {
    position: relative;
    display: block;
    width: 3.5rem;
    height: 100%;
    min-height: 3.9rem;
    padding: 0;
    border: 0;
    background: none;
    outline-offset: -4px;
    touch-action: pan-y;
    user-select: none;
    -webkit-user-select: none;
  }
  td button[aria-pressed='true'] {
    background: none;
    color: var(--paper);
  }
  /* Where each group of four begins, to count by. */
  td.fourth {
    border-left: 1px solid var(--bar-strong);
  }
  td:not(.fourth) {
    border-left: 1px solid var(--bar);
  }
  .rest {
    position: absolute;
    inset: 0;
    margin: auto;
    width: 6px;
    height: 6px;
    border-radius: 50%;
    background: var(--bar-strong);
  }
  /* A note is a plate with its name; how long it sounds is the stem below it. */
  .note {
    position: absolute;
    inset: 0.7rem 0.25rem auto;
    height: 2.05rem;
    display: grid;
    place-items: center;
    border: 1.5px solid var(--paper-soft);
    background: var(--pane-raised);
    font-size: 1.1875rem;
    font-weight: 700;
    line-height: 1;
  }
  .note.long {
    font-size: 1.0625rem;
  }
  .note.maybe {
    border-style: dashed;
  }
  .note.accent {
    border: 3px solid var(--paper);
  }
  /* The wedge of an accented note. */
  .note.accent::before {
    content: '';
    position: absolute;
    top: -0.72rem;
    left: 50%;
    translate: -50% 0;
    border: 0.42rem solid transparent;
    border-top-width: 0;
    border-bottom: 0.5rem solid var(--paper);
  }
  .stem {
    position: absolute;
    left: 0.3rem;
    top: 3.05rem;
    height: 4px;
    background: var(--paper-soft);
  }
  .chance {
    position: absolute;
    right: 0.2rem;
    top: 2.95rem;
    font-size: 0.75rem;
    line-height: 0.9rem;
    color: var(--paper-soft);
    background: var(--pane);
  }
  tr.muted .note {
    border-style: dotted;
    background: none;
    font-weight: 400;
    color: var(--paper-soft);
  }
  td.chosen {
    background: var(--pane-raised);
    box-shadow: inset 0 0 0 2px var(--light);
  }
  /* Where the row stands: a frame, and a foot under it, not a fill: large areas that go light and dark with every step would flash. */
  td.now button::after {
    content: '';
    position: absolute;
    inset: 1px;
    border: 3px solid var(--paper);
    border-bottom-width: 8px;
    pointer-events: none;
  }
  td.painted button {
    outline: 3px dashed var(--light);
    outline-offset: -5px;
  }
  td.end {
    border-left: 1px solid var(--bar-strong);
    background: none;
  }
  td.end button {
    width: 2.75rem;
    font-size: 1.375rem;
    border: 0;
    color: var(--paper-soft);
  }
  td.empty {
    background: none;
    border-left: 0;
  }
  .legend {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem 1.3rem;
    margin: 0.6rem 0 0;
    padding: 0;
    list-style: none;
    color: var(--paper-soft);
    font-size: 0.9375rem;
  }
  .legend li {
    display: flex;
    align-items: center;
    gap: 0.5em;
  }
  .sign {
    position: relative;
    width: 1.9rem;
    height: 1.5rem;
    border: 1.5px solid var(--paper-soft);
  }
  .sign.none {
    border: 0;
    width: 1rem;
  }
  .sign.accent {
    border: 3px solid var(--paper);
  }
  .sign.maybe {
    border-style: dashed;
  }
  .sign.muted {
    border-style: dotted;
  }
  .sign.now {
    border: 3px solid var(--paper);
    border-bottom-width: 7px;
  }
  .sign.gate {
    border: 0;
    border-bottom: 4px solid var(--paper-soft);
    height: 0.7rem;
  }
  .fault {
    color: var(--grave);
    margin: 0.5rem 0 0;
  }
`
