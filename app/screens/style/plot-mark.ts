import type { SVGTemplateResult } from 'lit'
import { svg } from 'lit'

/** Marks of points, told apart by form; paths in a square from -4 to 4. */
const FORMS = [
  { form: 'rings', path: 'M-3 0A3 3 0 1 0 3 0A3 3 0 1 0-3 0Z', isFilled: false },
  { form: 'crosses', path: 'M-3-3L3 3M-3 3L3-3', isFilled: false },
  { form: 'triangles', path: 'M0-4L3.6 3H-3.6Z', isFilled: true },
  { form: 'squares', path: 'M-3-3H3V3H-3Z', isFilled: false },
  { form: 'diamonds', path: 'M0-4L4 0L0 4L-4 0Z', isFilled: true },
  { form: 'pluses', path: 'M0-4V4M-4 0H4', isFilled: false },
] as const

/** What the marks of the series at a place are called; they come again after six. */
export function markForm(place: number): string {
  return FORMS[place % FORMS.length]?.form ?? ''
}

export function plotMark(place: number, x: number, y: number, ink: string): SVGTemplateResult {
  const mark = FORMS[place % FORMS.length] ?? FORMS[0]
  return svg`<path
    transform="translate(${x.toFixed(1)} ${y.toFixed(1)})"
    d=${mark.path}
    fill=${mark.isFilled ? ink : 'none'}
    stroke=${ink}
    stroke-width="1.2"
  ></path>`
}
