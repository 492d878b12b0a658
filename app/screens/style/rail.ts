import { css } from 'lit'

/** The rail: upright at the left of a wide page, lying on top of a narrow one. */
export const rail = css`
  :host {
    display: flex;
    flex-direction: column;
    gap: 0.6rem;
    width: 12rem;
    padding: 0.7rem 0.75rem 0.6rem;
    overflow-y: auto;
    border-right: 1px solid var(--bar-strong);
  }
  p,
  ul {
    margin: 0;
    padding: 0;
    list-style: none;
  }
  .show {
    margin: 3px;
    padding: 0.45rem 0.6rem;
  }
  .title {
    font-family: var(--plate-serif);
    font-style: italic;
    font-size: 1.125rem;
    line-height: 1.2;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 2;
    overflow: hidden;
    overflow-wrap: anywhere;
  }
  .saved {
    font-size: 0.9375rem;
    color: var(--paper-soft);
  }
  .unsaved {
    color: var(--warn);
  }
  .unsaved::before {
    content: '* ';
  }
  a {
    display: flex;
    align-items: center;
    gap: 0.6em;
    min-height: 42px;
    padding: 0 0.6rem;
    color: var(--paper);
    font-size: 1.125rem;
    text-decoration: none;
    border-left: 4px solid transparent;
    border-bottom: 1px solid var(--bar);
  }
  a span {
    font-size: 0.875rem;
    color: var(--paper-soft);
  }
  a:hover {
    background: var(--pane-raised);
  }
  a[aria-current] {
    border-left-color: var(--light);
    background: var(--pane-raised);
    font-weight: 700;
  }
  a:focus-visible {
    outline-offset: -3px;
  }
  .tools {
    display: flex;
    flex-direction: column;
    gap: 0.4rem;
    margin-top: auto;
  }
  .tools button {
    width: 100%;
    min-height: 44px;
    padding: 0.2em 0.6em;
    text-align: left;
    line-height: 1.15;
  }
  .steps {
    display: grid;
    grid-template-columns: repeat(2, minmax(0, 1fr));
    gap: 0.4rem;
  }
  .step span,
  .step small {
    display: block;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .step small {
    font-size: 0.8125rem;
    color: var(--paper-soft);
  }
  .rig p {
    font-weight: 700;
    padding: 0.2rem 0;
  }
  @media (max-width: 900px) {
    :host {
      width: auto;
      gap: 0.5rem;
      padding: 0.6rem 0.75rem 0;
      border-right: 0;
      border-bottom: 1px solid var(--bar-strong);
      display: grid;
      grid-template-columns: minmax(9rem, 14rem) 1fr;
      align-items: center;
      overflow: visible;
    }
    .title {
      -webkit-line-clamp: 2;
    }
    nav {
      grid-column: 1 / -1;
      order: 3;
    }
    ul {
      display: flex;
    }
    li {
      flex: 1 1 0;
    }
    a {
      justify-content: center;
      padding: 0 0.2rem;
      border-left: 0;
      border-bottom: 4px solid transparent;
    }
    a[aria-current] {
      border-bottom-color: var(--light);
    }
    .tools {
      flex-direction: row;
      align-items: end;
      margin: 0;
    }
    .tools button {
      flex: 1 1 0;
      min-width: 0;
      height: 100%;
    }
    .tools > * {
      flex: 1 1 0;
      min-width: 0;
    }
    .tools > .steps {
      flex: 1.5 1 0;
    }
    .tools > .rig {
      flex: 1.15 1 0;
    }
    .rig p {
      white-space: nowrap;
      font-size: 0.875rem;
      padding: 0;
    }
  }
`
