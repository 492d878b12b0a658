import { css } from 'lit'

/** The Stage: song above, plan of lamps in all the room there is, players below. */
export const stage = css`
  :host {
    display: grid;
    grid-template-rows: auto minmax(240px, 1fr) auto;
    grid-template-columns: minmax(0, 1fr);
    height: 100%;
    min-height: 520px;
  }
  p {
    margin: 0;
  }
  header {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 1rem;
    align-items: center;
    padding: 0.75rem 1.25rem 0.5rem;
  }
  .song {
    padding: 0.3rem 1rem 0.5rem;
  }
  .where {
    color: var(--paper-soft);
    font-size: 1.125rem;
  }
  h1 {
    font-size: 3.75rem;
    font-style: italic;
    line-height: 1.1;
    padding-bottom: 0.05em;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 2;
    overflow: hidden;
    overflow-wrap: anywhere;
  }
  .then {
    font-size: 1.75rem;
    line-height: 1.3;
    min-height: 1.3em;
  }
  .then i {
    font-family: var(--plate-serif);
  }
  .then a {
    color: inherit;
  }
  .ways {
    display: grid;
    grid-template-columns: 8rem 10rem 7rem;
    gap: 0.5rem;
  }
  .ways > button {
    width: 100%;
    height: 64px;
    font-size: 1.25rem;
  }
  .measures {
    grid-column: 1 / -1;
    min-height: 1.4em;
    text-align: right;
    font-size: 1.0625rem;
    color: var(--paper-soft);
  }
  figure {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr);
    min-height: 0;
    margin: 0;
    padding: 0 1.25rem;
  }
  figcaption {
    display: flex;
    justify-content: space-between;
    align-items: center;
    gap: 1rem;
    font-size: 1rem;
    color: var(--paper-soft);
  }
  figcaption b {
    font-family: var(--plate-serif);
    font-style: italic;
    font-weight: 500;
    margin-right: 0.5em;
  }
  figcaption button {
    min-height: 36px;
    padding: 0.1em 0.8em;
  }
  @media (max-width: 1100px) {
    .ways {
      grid-template-columns: 6.5rem 8rem 6.5rem;
    }
    .measures {
      font-size: 0.9375rem;
    }
  }
  @media (max-width: 900px) {
    header {
      grid-template-columns: minmax(0, 1fr);
    }
    .ways {
      grid-template-columns: 1fr 1fr 1fr;
    }
    .measures {
      text-align: left;
    }
  }
`
