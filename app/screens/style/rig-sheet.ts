import { css } from 'lit'

/** Cards and captions of the Rig: herbarium labels on a hook-up sheet. */
export const rigSheet = css`
  :host {
    display: block;
    /* What is only for those who hear the page stays within. */
    position: relative;
  }
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    justify-content: space-between;
    gap: 0.5rem 1rem;
    border-bottom: 1px solid var(--bar);
    padding-bottom: 0.5rem;
    margin-bottom: 0.9rem;
  }
  .buttons {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem;
  }
  .cards {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(100%, 23rem), 1fr));
    gap: 1rem;
  }
  .card {
    border: 1px solid var(--bar);
    background: var(--pane);
    padding: 0.9rem 1rem 1rem;
    display: flex;
    flex-direction: column;
    gap: 0.8rem;
  }
  .card h3 {
    font-style: italic;
    font-size: 1.25rem;
    display: flex;
    align-items: center;
    gap: 0.5rem;
  }
  .card h3 .kind {
    font: normal 0.875rem var(--plate-sans);
    color: var(--paper-soft);
    margin-left: auto;
  }
  .grid {
    display: grid;
    grid-template-columns: repeat(2, minmax(0, 1fr));
    gap: 0.7rem 0.9rem;
    align-items: start;
  }
  .grid .wide {
    grid-column: 1 / -1;
  }
  .ends {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem;
    margin-top: auto;
    padding-top: 0.3rem;
  }
  p {
    margin: 0;
    max-width: 70ch;
  }
  .fault {
    color: var(--grave);
    margin-top: 0.5rem;
  }
  .over {
    color: var(--warn);
  }
  .asking {
    border: 1px solid var(--bar-strong);
    padding: 0.8rem;
    display: flex;
    flex-direction: column;
    gap: 0.7rem;
  }
  summary {
    cursor: pointer;
    min-height: 2rem;
    color: var(--paper-soft);
  }
  .note {
    color: var(--paper-soft);
    font-size: 0.9375rem;
    border-left: 1px solid var(--bar-strong);
    padding-left: 0.8rem;
    margin-top: 0.8rem;
  }
`
