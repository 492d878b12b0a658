import type { Markup } from './html.ts'
import { html } from './html.ts'

const MOST_LEAVES = 8

/** A lamp that hangs from a stem with so many leaves, as a plate would draw it; ink on paper, and nothing to read. */
export function sprig(leaves: number): Markup {
  const count = Math.min(MOST_LEAVES, Math.max(1, leaves))
  const drawn = Array.from({ length: count }, (_, index) => leaf(index, count))
  return html`<svg
    class="sprig"
    viewBox="0 0 60 120"
    width="60"
    height="120"
    aria-hidden="true"
    focusable="false"
  >
    <path d="M30 0C26 24 34 48 30 84" fill="none" stroke="#000" stroke-width="1.4" />
    ${drawn}
    <path d="M25 84H35L37 92H23Z" fill="#000" />
    <circle cx="30" cy="104" r="13" fill="none" stroke="#000" stroke-width="1.4" />
    <path d="M24 96L28 108L30 101L32 108L36 96" fill="none" stroke="#000" stroke-width="0.9" />
  </svg>`
}

/** Leaves stand left and right by turns, from the top down. */
function leaf(index: number, count: number): Markup {
  const y = Math.round(12 + (60 * index) / count)
  const [side, turn] = index % 2 === 0 ? [1, 32] : [-1, -32]
  return html`<path
    d="M0 0C6 -9 18 -9 24 0C18 6 6 6 0 0M0 0H17"
    transform="translate(30 ${y}) rotate(${turn}) scale(${side} 1)"
    fill="none"
    stroke="#000"
    stroke-width="1"
  />`
}
