import { css } from 'lit'

/** The first start: a label, the steps beside it, one question under them. */
export const firstStart = css`
  :host {
    display: block;
    position: relative;
  }
  .sheet {
    max-width: 62rem;
    margin: 0 auto;
    padding: 1.5rem 1.25rem 2rem;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 1rem 2rem;
    margin-bottom: 1.75rem;
  }
  h1 {
    font-size: 1.5rem;
  }
  h2 {
    font-size: 1.75rem;
    margin-bottom: 1.2rem;
    outline-offset: 6px;
  }
  ol {
    display: flex;
    flex-wrap: wrap;
    gap: 0.3rem 1.6rem;
    margin: 0;
    padding: 0;
    list-style-position: inside;
    color: var(--paper-soft);
    font-variant-numeric: tabular-nums;
  }
  li[aria-current] {
    color: var(--paper);
    border-bottom: 3px solid var(--light);
  }
  .ends {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.8rem;
    margin-top: 2rem;
    border-top: 1px solid var(--bar);
    padding-top: 1.2rem;
  }
  .on {
    font-size: 1.125rem;
    padding-inline: 1.6em;
  }
  .cautions {
    border: 1px solid var(--bar-strong);
    background: var(--pane);
    padding: 0.4rem 1.2rem;
    max-width: 75ch;
    font-size: 1.0625rem;
  }
  .read {
    display: inline-flex;
    align-items: center;
    gap: 0.8rem;
    min-height: var(--touch);
    margin-top: 1rem;
    font-size: 1.0625rem;
  }
  .fault {
    color: var(--grave);
    max-width: 75ch;
  }
  .over {
    color: var(--warn);
    max-width: 75ch;
  }
`
