import { css } from 'lit'

/** A form in parts, a hairline over each. */
export const formSection = css`
  section {
    border-top: 1px solid var(--bar);
    padding: 0.7rem 0 0.9rem;
  }
  h3 {
    margin-bottom: 0.4rem;
  }
`
