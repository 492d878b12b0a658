import { css } from 'lit'

/** The Stage: song above, plan of lamps in all the room there is, players below. */
export const stage = css`
  :host {
    display: grid;
    grid-template-rows: auto auto minmax(220px, 1fr) auto auto auto;
    grid-template-columns: minmax(0, 1fr);
    height: 100%;
    min-height: 580px;
  }
  p {
    margin: 0;
  }
  header {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 1rem;
    align-items: center;
    padding: 0.4rem 1.25rem 0.3rem;
  }
  .song {
    padding: 0.2rem 1rem 0.35rem;
  }
  .where {
    color: var(--paper-soft);
    font-size: 1.125rem;
    line-height: 1.25;
  }
  h1 {
    font-size: 3.6rem;
    font-style: italic;
    line-height: 1.1;
    padding-bottom: 0.14em;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 2;
    overflow: hidden;
    overflow-wrap: anywhere;
  }
  .then {
    font-size: 1.75rem;
    line-height: 1.2;
    min-height: 1.2em;
  }
  .after {
    display: flex;
    flex-wrap: wrap;
    gap: 0.3rem 0;
    align-items: center;
    min-height: 44px;
  }
  .after i {
    font-family: var(--plate-serif);
  }
  .after button {
    margin-left: 1rem;
  }
  .tuned p {
    margin-left: 1rem;
    font-size: 1.5rem;
    line-height: 1.2;
    overflow-wrap: anywhere;
  }
  .coming {
    font-size: 2.25rem;
    line-height: 1.15;
    font-weight: 700;
    overflow-wrap: anywhere;
  }
  .coming i {
    font-weight: 500;
  }
  .stay {
    min-width: 7rem;
    height: 52px;
    font-size: 1.375rem;
  }
  .notes {
    padding: 0.25rem 1.25rem 0.75rem;
  }
  .notes p {
    max-height: 9.2rem;
    overflow: auto;
    padding: 0.4rem 1rem;
    border: 1px solid var(--bar-strong);
    font-size: 1.75rem;
    line-height: 1.25;
    white-space: pre-line;
    overflow-wrap: anywhere;
    outline-offset: -3px;
  }
  .ways-of-seeing {
    display: flex;
    gap: 0.5rem;
  }
  .then i {
    font-family: var(--plate-serif);
  }
  .then a {
    color: inherit;
  }
  .ways {
    display: grid;
    grid-template-columns: 7.5rem 9.5rem;
    gap: 0.5rem;
    align-items: center;
  }
  .ways > button {
    width: 100%;
    height: 60px;
    font-size: 1.25rem;
    padding-inline: 0.4em;
  }
  .measures {
    min-width: 0;
    font-size: 0.9375rem;
    line-height: 1.28;
    color: var(--paper-soft);
  }
  .measures span {
    display: block;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
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
    line-height: 1.35;
    color: var(--paper-soft);
  }
  .ways-of-seeing {
    flex: none;
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
  @media (max-width: 900px) {
    .ways {
      grid-template-columns: 6.5rem 8.5rem;
    }
  }
  @media (max-width: 1200px) {
    figcaption {
      flex-wrap: wrap;
      gap: 0.4rem 1rem;
    }
    figcaption > span:first-child {
      flex: 1 1 0;
    }
    figcaption > lan-song-time {
      flex: 1 0 100%;
      order: 1;
    }
  }
`
