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
  /* In a table: close, and what is wrong lies over what is below. */
  :host([bare]) {
    position: relative;
  }
  :host([bare]) input,
  :host([bare]) select {
    background: none;
    border-color: transparent;
    border-bottom-color: var(--bar-strong);
    padding-inline: 0.25em;
  }
  :host([bare]) input:hover,
  :host([bare]) input:focus,
  :host([bare]) select:hover,
  :host([bare]) select:focus {
    border-color: var(--bar-strong);
  }
  :host([bare]) input[aria-invalid='true'],
  :host([bare]) select[aria-invalid='true'] {
    border-color: var(--grave);
  }
  :host([bare]) .fault {
    position: absolute;
    z-index: 3;
    top: 100%;
    left: 0;
    width: max-content;
    max-width: 18rem;
    background: var(--ground);
    border: 1px solid var(--grave);
    padding: 0.3rem 0.5rem;
    font: 0.875rem/1.3 var(--plate-sans);
    text-align: left;
  }
  :host([bare][data-end]) .fault {
    left: auto;
    right: 0;
  }
`
