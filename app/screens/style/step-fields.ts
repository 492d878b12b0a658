import { css } from 'lit'

/** Fields about a pattern and its pieces, and the buttons below them. */
export const stepFields = css`
  :host {
    display: block;
    min-width: 0;
  }
  h2 {
    margin: 0 0 0.7rem;
    font-size: 1.25rem;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(8.5rem, 100%), 1fr));
    gap: 0.7rem 1rem;
    align-items: start;
  }
  .fields > * {
    display: block;
  }
  .ends {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem;
    margin-top: 0.9rem;
  }
  .fault {
    color: var(--grave);
    margin: 0.5rem 0 0;
  }
  p {
    margin: 0.4rem 0 0;
  }
`
