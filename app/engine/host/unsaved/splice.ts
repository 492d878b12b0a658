/** One text made of another: what stands from `from` to before `to` gives way to `text`. Places are UTF-16 units. */
export interface Splice {
  readonly from: number
  readonly to: number
  readonly text: string
}

/** The shortest single splice that makes `after` of `before`. */
export function spliceOf(before: string, after: string): Splice {
  const most = Math.min(before.length, after.length)
  let from = 0
  while (from < most && before.charCodeAt(from) === after.charCodeAt(from)) from++
  let tail = 0
  while (
    tail < most - from &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  )
    tail++
  return { from, to: before.length - tail, text: after.slice(from, after.length - tail) }
}

/** Undefined where the text has no such places. */
export function spliced(before: string, { from, to, text }: Splice): string | undefined {
  return from <= to && to <= before.length ? before.slice(0, from) + text + before.slice(to) : undefined
}
