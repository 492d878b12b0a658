import type { TemplateResult } from 'lit'
import { html } from 'lit'
import type { MonitorEvent } from '../../../src/contract/from-engine.ts'

const MARKS: Readonly<Record<MonitorEvent['way'], string>> = {
  /** Into the house. */
  in: 'M-9 0H3M-2-5L4 0L-2 5M8-8V8',
  /** Out of it. */
  out: 'M-8-8V8M-4 0H8M3-5L9 0L3 5',
  /** A lamp on its stem. */
  light: 'M0-9V-4M0-4A6 6 0 1 1-.1-4Z',
  /** Lines of writing. */
  word: 'M-8-6H8M-8 0H8M-8 6H2',
}

/** Which way an event goes: by form and by word. */
export function wayMark(way: MonitorEvent['way']): TemplateResult {
  return html`<span style="white-space:nowrap">
    <svg
      viewBox="-11 -11 22 22"
      width="1.1em"
      height="1.1em"
      aria-hidden="true"
      style="vertical-align:-.2em;margin-right:.4em"
    >
      <path d=${MARKS[way]} fill="none" stroke="currentColor" stroke-width="2"></path>
    </svg>
    <span>${way}</span>
  </span>`
}
