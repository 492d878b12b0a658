import type { TemplateResult } from 'lit'
import { html } from 'lit'

type Gravity = 'fault' | 'warning' | 'note'

const MARKS: Readonly<Record<Gravity, { readonly path: string; readonly ink: string }>> = {
  /** Eight corners. */
  fault: { path: 'M-3.7-9H3.7L9-3.7V3.7L3.7 9H-3.7L-9 3.7V-3.7Z', ink: 'var(--grave)' },
  warning: { path: 'M0-9L10 8H-10Z', ink: 'var(--warn)' },
  note: { path: 'M0-8A8 8 0 1 1-.1-8Z', ink: 'var(--calm)' },
}

/** How grave something is: by form, by word, and by ink besides. */
export function gravityMark(gravity: Gravity, word: string = gravity): TemplateResult {
  const { path, ink } = MARKS[gravity]
  return html`<span style="white-space:nowrap">
    <svg
      viewBox="-11 -11 22 22"
      width="1.1em"
      height="1.1em"
      aria-hidden="true"
      style="vertical-align:-.2em;margin-right:.4em"
    >
      <path d=${path} fill=${gravity === 'note' ? 'none' : ink} stroke=${ink} stroke-width="2"></path>
    </svg>
    <span>${word}</span>
  </span>`
}
