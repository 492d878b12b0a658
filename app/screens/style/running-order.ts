import { css } from 'lit'

/** A running order as it is printed: place, song and what is under it, length; and what can be done with it. */
export const runningOrderStyle = css`
  :host {
    display: block;
    container-type: inline-size;
  }
  p {
    margin: 0;
  }
  ol {
    list-style: none;
    margin: 0;
    padding: 0;
    border-top: 3px double var(--bar-strong);
  }
  li {
    display: grid;
    grid-template-columns: 2.2rem minmax(0, 1fr) 4.5rem 15.2rem;
    gap: 0.2rem 0.75rem;
    align-items: start;
    padding: 0.7rem 0;
    border-bottom: 1px solid var(--bar);
  }
  .number {
    font-family: var(--plate-serif);
    font-size: 1.375rem;
    color: var(--paper-soft);
    text-align: right;
  }
  em {
    font-family: var(--plate-serif);
  }
  a {
    color: var(--paper);
    text-underline-offset: 0.2em;
    display: inline-block;
    min-height: 24px;
    overflow-wrap: anywhere;
  }
  a[aria-current] {
    text-decoration: none;
    border-bottom: 3px solid var(--light);
  }
  .what > p:first-child a {
    font-size: 1.375rem;
    line-height: 1.25;
  }
  .skipped .what > p:first-child a {
    color: var(--paper-soft);
  }
  .state {
    border: 1px solid var(--bar-strong);
    padding: 0 0.5em;
    margin-left: 0.4em;
    white-space: nowrap;
  }
  .notes {
    white-space: pre-line;
    color: var(--paper-soft);
    margin-top: 0.25rem;
    overflow-wrap: anywhere;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 4;
    overflow: hidden;
  }
  .length {
    text-align: right;
    font-size: 1.125rem;
    padding-top: 0.15em;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 0.25rem;
    justify-content: flex-end;
  }
  .tools button {
    min-width: var(--touch);
    padding: 0.2em;
  }
  .tools button:first-child {
    flex: 1;
  }
  .tonight {
    display: flex;
    align-items: center;
    gap: 0.5em;
    width: 100%;
    min-height: 32px;
  }
  .skipped .tonight {
    font-weight: 700;
  }
  .sum {
    display: flex;
    justify-content: space-between;
    gap: 1rem;
    padding: 0.6rem 0;
    padding-left: 2.95rem;
    border-bottom: 3px double var(--bar-strong);
    font-size: 1.125rem;
  }
  .adder {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem;
    margin-top: 0.9rem;
  }
  .adder select {
    flex: 1 1 10rem;
    min-width: 0;
  }
  .others {
    margin-top: 0.9rem;
    color: var(--paper-soft);
  }
  .fault {
    color: var(--grave);
    margin-top: 0.5rem;
  }
  @container (min-width: 560px) {
    .sum b {
      margin-right: 15.95rem;
    }
  }
  @container (max-width: 559px) {
    li {
      grid-template-columns: 2.2rem minmax(0, 1fr) 4.5rem;
    }
    .tools {
      grid-column: 2 / -1;
    }
  }
`
