import { css } from 'lit'

/** What every element wears: boxes, focus, and the plain controls. Each element adds its own after it. */
export const controls = css`
  :host {
    box-sizing: border-box;
    color: var(--paper);
  }
  :host([hidden]) {
    display: none;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  h1,
  h2,
  h3 {
    font-family: var(--plate-serif);
    font-weight: 500;
    line-height: 1.15;
    margin: 0;
  }
  h2 {
    font-size: 1.375rem;
  }
  h3 {
    font-size: 1.125rem;
  }
  :focus-visible {
    outline: 3px solid var(--light);
    outline-offset: 2px;
  }
  button,
  select,
  input,
  textarea {
    font: inherit;
    color: inherit;
    background: var(--pane-raised);
    border: 1px solid var(--bar-strong);
    border-radius: 0;
    min-height: var(--touch);
    padding: 0.35em 0.8em;
  }
  button {
    cursor: pointer;
  }
  button:hover:not(:disabled) {
    border-color: var(--light);
  }
  button:disabled {
    color: var(--paper-soft);
    border-style: dashed;
    cursor: default;
  }
  input[readonly],
  textarea[readonly] {
    color: var(--paper-soft);
    background: none;
    border-style: dashed;
  }
  button[aria-pressed='true'],
  button.chosen {
    background: var(--light);
    border-color: var(--light);
    color: var(--on-light);
  }
  input[type='checkbox'],
  input[type='radio'] {
    min-height: 0;
    width: 1.5rem;
    height: 1.5rem;
    accent-color: var(--light);
    margin: 0;
  }
  input:user-invalid,
  input[aria-invalid='true'] {
    border-color: var(--grave);
  }
  table {
    border-collapse: collapse;
  }
  .figures {
    font-variant-numeric: tabular-nums;
  }
  .soft {
    color: var(--paper-soft);
  }
  /* A specimen label: the double rule around a name. */
  .label {
    border: 1px solid var(--bar-strong);
    outline: 1px solid var(--bar);
    outline-offset: 3px;
    padding: 0.4em 0.8em;
    background: var(--pane);
  }
  .unseen {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: -1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`
