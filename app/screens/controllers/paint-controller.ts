import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { PatternStep } from '../../../src/domain/pattern.ts'
import type { Paint } from '../steps/paint.ts'
import { isTap, paintedTo } from '../steps/paint.ts'

interface Brushes {
  /** What a hand that comes down there makes of steps; undefined: nothing. */
  begin(row: string, index: number): PatternStep | undefined
  /** A stroke is over: it came over these. A tap is none. */
  painted(row: string, indexes: readonly number[], step: PatternStep): void
}

type Host = ReactiveControllerHost & HTMLElement & { readonly renderRoot: HTMLElement | DocumentFragment }

/** Strokes along a row of steps, by mouse, pen or finger: cells are `td[data-index]` in a `tr[data-row]` of the element. One stroke is one edit, once it is over. */
export class PaintController implements ReactiveController {
  readonly #element: Host
  readonly #brushes: Brushes
  #paint: Paint | undefined
  #pointer: number | undefined
  #hasPainted = false

  constructor(element: Host, brushes: Brushes) {
    this.#element = element
    this.#brushes = brushes
    element.addController(this)
  }

  hostConnected(): void {
    this.#element.addEventListener('pointerdown', this.#down)
    for (const end of ['pointermove', 'pointerup', 'pointercancel'] as const)
      window.addEventListener(end, this.#moved)
  }

  hostDisconnected(): void {
    this.#element.removeEventListener('pointerdown', this.#down)
    for (const end of ['pointermove', 'pointerup', 'pointercancel'] as const)
      window.removeEventListener(end, this.#moved)
    this.#paint = undefined
  }

  /** Whether a stroke that is under way has come over a step. */
  isOver(row: string, index: number): boolean {
    const paint = this.#paint
    return paint !== undefined && !isTap(paint) && paint.row === row && paint.over.includes(index)
  }

  /** Whether this click is the end of a stroke, which has done its work. */
  hasPainted({ detail }: MouseEvent): boolean {
    return detail > 0 && this.#hasPainted
  }

  readonly #down = (event: PointerEvent): void => {
    this.#hasPainted = false
    if (event.button !== 0 || !event.isPrimary) return
    const cell = this.#cellAt(event)
    const step = cell && this.#brushes.begin(cell.row, cell.index)
    if (!cell || step === undefined) return
    this.#pointer = event.pointerId
    this.#paint = { row: cell.row, from: cell.index, step, over: [cell.index] }
  }

  readonly #moved = (event: PointerEvent): void => {
    const paint = this.#paint
    if (!paint || event.pointerId !== this.#pointer) return
    if (event.type === 'pointermove') {
      const cell = this.#cellAt(event)
      if (!cell) return
      const next = paintedTo(paint, cell.row, cell.index)
      if (next.over.length === paint.over.length) return
      this.#paint = next
    } else {
      this.#paint = undefined
      if (event.type === 'pointerup' && !isTap(paint)) {
        this.#hasPainted = true
        this.#brushes.painted(paint.row, paint.over, paint.step)
      }
    }
    this.#element.requestUpdate()
  }

  /** Under the pointer, whatever element has caught it: a finger's events all go to where it came down. */
  #cellAt({ clientX, clientY }: PointerEvent): { readonly row: string; readonly index: number } | undefined {
    const root = this.#element.renderRoot as ShadowRoot
    const cell = root.elementFromPoint(clientX, clientY)?.closest<HTMLElement>('td[data-index]')
    const row = cell?.closest<HTMLElement>('tr[data-row]')?.dataset['row']
    return cell && row !== undefined ? { row, index: Number(cell.dataset['index']) } : undefined
  }
}
