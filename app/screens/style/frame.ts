import { css } from 'lit'

/** The page's frame: the rail, the room, and the sill below it with the words and the Dark key. Rooms scroll; the frame never does. */
export const frame = css`
  :host {
    display: block;
    height: 100%;
  }
  .frame {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    grid-template-rows: minmax(0, 1fr);
    height: 100%;
  }
  .frame > .floor:first-child {
    grid-column: 1 / -1;
  }
  header {
    display: grid;
    grid-template-rows: minmax(0, 1fr);
    min-height: 0;
  }
  .floor {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
    grid-template-columns: minmax(0, 1fr);
    min-height: 0;
  }
  .space {
    position: relative;
    min-height: 0;
  }
  main {
    position: relative;
    /* What is sticky in a room stays under the pane beside it. */
    isolation: isolate;
    height: 100%;
    overflow: auto;
    outline-offset: -3px;
  }
  .pane {
    position: absolute;
    inset: 0 auto 0 0;
    width: min(30rem, 100%);
    display: grid;
    grid-template-rows: minmax(0, 1fr);
  }
  footer {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 1rem;
    align-items: center;
    min-height: 88px;
    padding: 4px 8px 4px 1.25rem;
    border-top: 1px solid var(--bar-strong);
  }
  .shut {
    padding: 1.5rem;
  }
  .shut h1 {
    display: inline-block;
    font-size: 1.75rem;
  }
  .shut p {
    font-size: 1.125rem;
  }
  .shut a {
    color: inherit;
  }
  .drop {
    position: fixed;
    inset: 0;
    display: grid;
    place-items: center;
    margin: 0;
    border: 6px double var(--light);
    background: var(--ground);
    font-family: var(--plate-serif);
    font-style: italic;
    font-size: 2.5rem;
    pointer-events: none;
  }
  @media (max-width: 900px) {
    .frame {
      grid-template-columns: minmax(0, 1fr);
      grid-template-rows: auto minmax(0, 1fr);
    }
    .frame > .floor:first-child {
      grid-row: 1 / -1;
    }
  }
`
