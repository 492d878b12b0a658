import { css } from 'lit'

/** The pattern, beside or below it the chosen step, and under both what plays it. */
export const stepsRoom = css`
  .song {
    display: flex;
    flex-wrap: wrap;
    gap: 0.8rem 1.5rem;
    align-items: flex-start;
  }
  .song > lan-select-field {
    flex: 0 1 22rem;
    font-size: 1.0625rem;
  }
  .song > nav {
    flex: 1 1 24rem;
    min-width: 0;
  }
  .list > p.none {
    margin: 0.5rem 0 0;
    font-size: 1rem;
  }
  .list > p {
    margin: 0 0 0.3rem;
    color: var(--paper-soft);
    font-size: 0.875rem;
  }
  .patterns ul {
    max-height: 6.5rem;
  }
  .main > .tools {
    margin: 0 0 0.7rem;
    align-items: center;
  }
  .main > .tools h2 {
    flex: 1 1 12rem;
    margin: 0;
    font-size: 1.75rem;
  }
  .seen {
    display: flex;
  }
  .seen button + button {
    border-left: 0;
  }
  .below {
    display: flex;
    flex-wrap: wrap;
    gap: 0.6rem 0.9rem;
    align-items: flex-end;
    margin-top: 0.9rem;
  }
  .below lan-select-field {
    width: 14rem;
  }
  .about {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr));
    gap: 1rem;
    align-items: start;
  }
  .about .wide {
    grid-column: 1 / -1;
  }
  @container (min-width: 1040px) {
    .sheet {
      grid-template-columns: minmax(0, 1fr) 19rem;
    }
  }
`
