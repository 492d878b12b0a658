import { css } from 'lit'

/** The plan of where lamps hang: stems from above, and a round figure for each lamp. */
export const rigPlan = css`
  :host {
    display: block;
  }
  figure {
    margin: 0;
  }
  .wall {
    position: relative;
    width: 100%;
    max-height: 22rem;
    border: 1px solid var(--bar);
    background: var(--pane);
    overflow: hidden;
  }
  svg {
    display: block;
    position: absolute;
    width: 100%;
    height: 100%;
  }
  .lamp {
    position: absolute;
    width: 44px;
    height: 44px;
    min-height: 0;
    padding: 0;
    margin: -22px 0 0 -22px;
    background: none;
    border: 0;
    touch-action: none;
    cursor: grab;
  }
  .lamp::before {
    content: '';
    position: absolute;
    inset: 8px;
    border: 1.5px solid var(--paper-soft);
    border-radius: 50%;
    background: var(--ground);
  }
  .lamp:focus-visible::before,
  .lamp:hover::before {
    border-color: var(--light);
  }
  .name {
    position: absolute;
    top: 38px;
    left: 50%;
    transform: translateX(-50%);
    font: italic 0.875rem var(--plate-serif);
    white-space: nowrap;
    max-width: 8rem;
    overflow: hidden;
    text-overflow: ellipsis;
    pointer-events: none;
  }
  /* Too many to name at once: each is named when it is pointed at. */
  .crowded .name {
    display: none;
    max-width: none;
    background: var(--ground);
    padding: 0 0.4em;
  }
  .crowded .lamp:hover,
  .crowded .lamp:focus-visible {
    z-index: 1;
  }
  .crowded .lamp:hover .name,
  .crowded .lamp:focus-visible .name {
    display: block;
  }
  figcaption {
    color: var(--paper-soft);
    margin-top: 0.5rem;
    font-size: 0.9375rem;
  }
`
