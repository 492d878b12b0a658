import type { PatternStep } from '../../../src/domain/pattern.ts'

/** A pointer that is down on a row and makes the steps it comes over the same. */
export interface Paint {
  readonly row: string
  readonly from: number
  readonly step: PatternStep
  /** The steps it has come over, the first among them. */
  readonly over: readonly number[]
}

/** The same, come as far as a step of its row: those on the way there too, since a quick hand leaves some out. */
export function paintedTo(paint: Paint, row: string, index: number): Paint {
  if (row !== paint.row) return paint
  const last = paint.over.at(-1) ?? paint.from
  const by = Math.sign(index - last)
  const way: number[] = []
  for (let at = last; at !== index; at += by) way.push(at + by)
  const fresh = way.filter((at) => !paint.over.includes(at))
  // The latest is told last, so that the way on begins there.
  const over = [...paint.over.filter((at) => at !== index), ...fresh.filter((at) => at !== index), index]
  return { ...paint, over }
}

/** A hand that has not left its first step: a tap, and no stroke. */
export function isTap({ over }: Paint): boolean {
  return over.length === 1
}
