import { css } from 'lit'

/** A labelled field: its name above, its unit behind, what is wrong with it below. */
export const fields = css`
  :host {
    display: inline-block;
    vertical-align: top;
    min-width: 0;
  }
  label {
    display: block;
    color: var(--paper-soft);
    font-size: 0.875rem;
    margin-bottom: 0.2em;
  }
  .entry {
    display: flex;
    align-items: center;
    gap: 0.4em;
  }
  input,
  select {
    width: 100%;
    min-width: 0;
  }
  input.figures {
    text-align: right;
    padding-inline: 0.4em;
  }
  .unit {
    color: var(--paper-soft);
  }
  .hint {
    color: var(--paper-soft);
    font-size: 0.875rem;
    margin: 0.2em 0 0;
    max-width: 44ch;
  }
  .fault {
    color: var(--grave);
    font-size: 0.875rem;
    margin: 0.2em 0 0;
    max-width: 44ch;
  }
`
