import { css } from 'lit'

/** The table of lamps: close, and its first column stays in sight. */
export const lampTable = css`
  .scroll {
    position: relative;
    overflow-x: auto;
    border: 1px solid var(--bar);
    background: var(--pane);
    /* Room for what is wrong with a field of the last row. */
    padding-bottom: 0.4rem;
  }
  table {
    width: 100%;
    font-size: 0.9375rem;
  }
  th,
  thead td {
    font-weight: 400;
    text-align: left;
    color: var(--paper-soft);
    white-space: nowrap;
    vertical-align: bottom;
    padding: 0.35rem 0.2rem;
    font-size: 0.8125rem;
  }
  thead {
    border-bottom: 1px solid var(--bar-strong);
  }
  th.of-numbers {
    text-align: right;
    padding-right: 0.45rem;
  }
  th[scope='colgroup'] {
    border-bottom: 1px solid var(--bar);
    text-align: center;
  }
  tbody tr + tr {
    border-top: 1px solid var(--bar);
  }
  tbody td,
  tbody th {
    padding: 0.15rem 0.1rem;
  }
  .first {
    position: sticky;
    left: 0;
    z-index: 1;
    background: var(--pane);
    min-width: 9.5rem;
    padding-left: 0.5rem;
  }
  .first lan-text-field {
    font: italic 1rem var(--plate-serif);
  }
  td.id {
    min-width: 5rem;
  }
  td.choice {
    min-width: 5rem;
  }
  td.number {
    min-width: 3.3rem;
  }
  lan-text-field,
  lan-number-field,
  lan-select-field {
    display: block;
  }
  tr.lit .first {
    box-shadow: inset 4px 0 0 var(--light);
  }
  td button {
    padding-inline: 0.4em;
    font-size: 0.875rem;
  }
  .finding {
    min-height: 1.5rem;
  }
`
