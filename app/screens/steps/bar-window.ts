import type { LightHistory, LightSpan } from '../controllers/light-history.ts'

/** The bars that are shown: whole ones, the last of them being filled. */
export interface BarWindow {
  /** Number of the first bar, from 0. */
  readonly firstBar: number
  readonly bars: number
  readonly beats: number
  /** Engine time at the first bar, microseconds. */
  readonly from: number
  /** Microseconds of a bar, not rounded. */
  readonly barMicros: number
}

/** The last `bars` bars up to the one that `now` is in; bars are counted from the first light. */
export function barWindow(
  { start }: Pick<LightHistory, 'start'>,
  now: number,
  song: { readonly tempo: number; readonly beats: number },
  bars: number,
): BarWindow {
  const barMicros = (song.beats * 60_000_000) / song.tempo
  const origin = start ?? now
  const current = Math.max(0, Math.floor((now - origin) / barMicros))
  const firstBar = Math.max(0, current - bars + 1)
  return { firstBar, bars, beats: song.beats, from: origin + firstBar * barMicros, barMicros }
}

export interface SpanBox {
  readonly span: LightSpan
  /** Part of the window's width, 0 to 1. */
  readonly left: number
  readonly width: number
}

/** Where the spans stand that the window shows any of. */
export function spanBoxes(spans: readonly LightSpan[], window: BarWindow, now: number): SpanBox[] {
  const length = window.bars * window.barMicros
  return spans.flatMap((span) => {
    const left = Math.max(0, (span.from - window.from) / length)
    const right = Math.min(1, ((span.until ?? now) - window.from) / length)
    return right > left ? [{ span, left, width: right - left }] : []
  })
}

/** "bar 3, beat 2.5": both counted from 1. */
export function beatWords(at: number, { start }: Pick<LightHistory, 'start'>, window: BarWindow): string {
  const beatMicros = window.barMicros / window.beats
  const beats = Math.max(0, (at - (start ?? at)) / beatMicros)
  const bar = Math.floor(beats / window.beats)
  const beat = beats - bar * window.beats + 1
  return `bar ${bar + 1}, beat ${beat.toFixed(1)}`
}
