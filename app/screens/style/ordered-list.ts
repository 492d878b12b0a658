import { css } from 'lit'

/** Lists whose entries can be put earlier or later, or taken off. */
export const orderedList = css`
  fieldset {
    border: 0;
    border-left: 1px solid var(--bar-strong);
    margin: 0;
    padding: 0 0 0 0.9em;
    min-width: 0;
  }
  legend {
    padding: 0;
  }
  ol {
    list-style: none;
    counter-reset: entry;
    margin: 0.25em 0;
    padding: 0;
  }
  li {
    counter-increment: entry;
    display: flex;
    align-items: center;
    gap: 0.25em;
    border-bottom: 1px solid var(--bar);
  }
  li::before {
    content: counter(entry);
    min-width: 1.6em;
    color: var(--paper-soft);
    font-variant-numeric: tabular-nums;
  }
  li > .name {
    flex: 1;
    font-family: var(--plate-serif);
    font-style: italic;
    min-width: 0;
    overflow-wrap: anywhere;
  }
  li > .entry-field {
    flex: 1;
    min-width: 0;
  }
  li > button {
    min-width: var(--touch);
    padding: 0.2em;
  }
  .adder {
    display: flex;
    gap: 0.25em;
    flex-wrap: wrap;
  }
  .adder > select {
    flex: 1 1 8em;
    min-width: 0;
  }
`
