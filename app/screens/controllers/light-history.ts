import type { LampStatus } from '../../../src/contract/from-engine.ts'

/** A lamp lit by one part on one key for a while. */
export interface LightSpan {
  readonly lamp: string
  readonly part: string
  readonly player: string
  readonly key: number | undefined
  readonly duty: number
  /** Engine time, microseconds. */
  readonly from: number
  /** null: still lit. */
  readonly until: number | null
}

export interface LightHistory {
  /** Engine time that it is known up to. */
  readonly at: number
  /** When the first light came; null: none yet. Bars are counted from here. */
  readonly start: number | null
  /** In order of `from`. */
  readonly spans: readonly LightSpan[]
}

export const NO_LIGHT_YET: LightHistory = { at: 0, start: null, spans: [] }

const MOST_SPANS = 4_000
/** A controller that moves the duty would cut a note to pieces too small to see. */
const SAME_DUTY = 0.02

/**
 * The history after a look at all lamps at engine time `at` (microseconds). What changed between two looks and back again is not seen. A time before the last
 * look is another engine's: the history begins anew.
 */
export function lightSeen(
  before: LightHistory,
  lamps: ReadonlyMap<string, LampStatus>,
  at: number,
): LightHistory {
  if (at < before.at) return lightSeen(NO_LIGHT_YET, lamps, at)
  const isOpen = new Set<string>()
  const spans = before.spans.map((span) => {
    if (span.until !== null) return span
    const lamp = lamps.get(span.lamp)
    if (!lamp || !goesOn(span, lamp)) return { ...span, until: at }
    isOpen.add(span.lamp)
    return span
  })
  for (const lamp of lamps.values()) {
    if (sounds(lamp) && !isOpen.has(lamp.lamp)) spans.push(spanOf(lamp, at))
  }
  const start = before.start ?? spans[0]?.from ?? null
  return { at, start, spans: spans.slice(-MOST_SPANS) }
}

function goesOn({ part, key, duty }: LightSpan, lamp: LampStatus): boolean {
  return (
    sounds(lamp) && lamp.part === part && lamp.key === key && Math.abs((lamp.duty ?? duty) - duty) < SAME_DUTY
  )
}

/** A lamp that glows is lit for no note. */
function sounds({ on, glow }: LampStatus): boolean {
  return on && glow !== true
}

function spanOf({ lamp, part, player, key, duty }: LampStatus, from: number): LightSpan {
  return { lamp, part: part ?? '', player: player ?? '', key, duty: duty ?? 0, from, until: null }
}
