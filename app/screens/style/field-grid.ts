import { css } from 'lit'

/** Fields side by side as the room lets them. */
export const fieldGrid = css`
  :host,
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(9.5rem, 100%), 1fr));
    gap: 0.7rem 1rem;
    align-items: start;
  }
  lan-text-field,
  lan-number-field,
  lan-select-field,
  lan-key-field,
  lan-lamps-field {
    display: block;
  }
`
