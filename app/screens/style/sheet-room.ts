import { css } from 'lit'

/** The sheet and, beside or below it, what is open: a part, or the song. */
export const sheetRoom = css`
  :host {
    display: block;
    container-type: inline-size;
  }
  .songs ul {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem;
    margin: 0;
    padding: 0;
    list-style: none;
    max-height: 9.5rem;
    overflow: auto;
  }
  .songs a {
    display: flex;
    align-items: center;
    gap: 0.6em;
    min-height: var(--touch);
    padding: 0.2em 0.9em;
    border: 1px solid var(--bar-strong);
    text-decoration: none;
    outline-offset: -3px;
  }
  .songs em {
    font-family: var(--plate-serif);
    font-size: 1.0625rem;
  }
  .songs a[aria-current] {
    border-color: var(--light);
    box-shadow: none;
    border-width: 2px;
  }
  .songs button {
    outline-offset: -3px;
  }
  .playing {
    color: var(--paper-soft);
    font-size: 0.875rem;
  }
  .sheet {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.5rem;
    align-items: start;
  }
  .main > h2 {
    margin-bottom: 0.1rem;
  }
  .main > p.soft {
    margin: 0 0 0.8rem;
  }
  .tools {
    margin-top: 0.9rem;
    align-items: center;
  }
  .side {
    border: 1px solid var(--bar);
    background: var(--pane);
    padding: 1rem;
    min-width: 0;
  }
  lan-song-form,
  lan-part-form {
    display: block;
  }
  @container (min-width: 1040px) {
    .sheet {
      grid-template-columns: minmax(0, 1fr) 21rem;
    }
  }
`
