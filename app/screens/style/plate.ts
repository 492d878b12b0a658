import { css } from 'lit'

/** A room laid out as a plate: the specimen label at its head, figures with captions, notes in the margin. */
export const plate = css`
  .plate {
    /* What is there to be heard only is placed within the room, or the page around it would grow. */
    position: relative;
    padding: 1.5rem;
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.5rem;
    min-width: 0;
  }
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 1rem 1.5rem;
  }
  .head h1 {
    font-size: 1.75rem;
  }
  .head > p {
    margin: 0;
    flex: 1 1 16rem;
    max-width: 70ch;
  }
  h2 {
    margin-bottom: 0.6rem;
  }
  .pane {
    border: 1px solid var(--bar);
    background: var(--pane);
    padding: 1rem;
    min-width: 0;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    align-items: flex-end;
    gap: 0.75rem 1rem;
  }
  figure {
    margin: 0;
    min-width: 0;
  }
  figure svg {
    display: block;
    width: 100%;
    max-width: 38rem;
    height: auto;
  }
  figcaption {
    font-family: var(--plate-serif);
    font-style: italic;
    color: var(--paper-soft);
    margin-top: 0.4rem;
  }
  .margin {
    color: var(--paper-soft);
    max-width: 70ch;
    margin: 0.5rem 0 0;
  }
  a {
    color: var(--paper);
    text-underline-offset: 0.2em;
  }
  a:hover {
    text-decoration-thickness: 2px;
  }
  th {
    text-align: left;
    font-weight: 600;
    color: var(--paper-soft);
  }
  th,
  td {
    padding: 0.3rem 0.75rem 0.3rem 0;
    border-bottom: 1px solid var(--bar);
    vertical-align: baseline;
  }
  th.number,
  td.number {
    text-align: right;
    font-variant-numeric: tabular-nums;
  }
  td.number {
    white-space: nowrap;
  }
  /* Long lists roll inside their frame, under heads that stay. */
  .roll {
    overflow: auto;
    max-width: 100%;
    position: relative;
  }
  .roll thead th {
    position: sticky;
    top: 0;
    background: var(--pane);
  }
  summary {
    cursor: pointer;
    min-height: 24px;
    padding: 0.35rem 0;
    color: var(--paper-soft);
  }
  svg text {
    fill: var(--paper-soft);
    font-family: var(--plate-sans);
    font-size: 14px;
    font-variant-numeric: tabular-nums;
  }
`
