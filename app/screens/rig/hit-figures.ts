import type { PadHit, PlayerActivity } from '../../../src/contract/from-engine.ts'
import { many } from '../wording/figures.ts'

export type Drop = NonNullable<PadHit['dropped']>

/** Why a hit was dropped, in a word. Pads make no ghosts, but a player may be changed into pads while it plays. */
export const DROP_WORDS: Readonly<Record<Drop, string>> = {
  floor: 'too soft',
  mask: 'bounce',
  crosstalk: 'crosstalk',
  ghost: 'ghost',
}

/** The letter that stands by a dropped hit: T, B, C or G. */
export function dropLetter(why: Drop): string {
  return DROP_WORDS[why].charAt(0).toUpperCase()
}

/** How far back the picture goes, as the engine keeps hits. */
export const SPAN_MICROS = 2_000_000

export interface Stem {
  readonly hit: PadHit
  /** Along the picture, 0 at its oldest to 1 at the latest hit. */
  readonly along: number
  /** As struck, 0 to 1 for 127. */
  readonly high: number
}

/** The hits as they stand in the picture; its end is the latest, so that it stands still when nobody plays. */
export function stems(hits: readonly PadHit[]): Stem[] {
  const latest = hits.at(-1)?.at ?? 0
  return hits.map((hit) => ({
    hit,
    along: 1 - Math.min(1, (latest - hit.at) / SPAN_MICROS),
    high: Math.min(1, hit.velocity / 127),
  }))
}

/** "Eleven hits in the last two seconds of playing: nine taken, one bounce, one crosstalk." */
export function hitsText(hits: readonly PadHit[]): string {
  const taken = hits.filter(({ dropped }) => dropped === undefined).length
  const drops = (Object.keys(DROP_WORDS) as Drop[]).flatMap((why) => {
    const count = hits.filter(({ dropped }) => dropped === why).length
    return count === 0 ? [] : [`${count} ${DROP_WORDS[why]}`]
  })
  return `${many(hits.length, 'hit')} in the last two seconds of playing: ${[`${taken} taken`, ...drops].join(', ')}`
}

/** Whether pads were hit since; keys that are pressed meanwhile are no matter. To be used as a property's `hasChanged`. */
export function areHitsNew(
  now: ReadonlyMap<string, PlayerActivity> | undefined,
  before: ReadonlyMap<string, PlayerActivity> | undefined,
): boolean {
  if (!now || !before || now.size !== before.size) return now !== before
  return [...now].some(([id, { hits, notes, dropped }]) => {
    const old = before.get(id)
    if (!old || (hits === undefined) !== (old.hits === undefined)) return true
    return hits !== undefined && (notes !== old.notes || dropped !== old.dropped)
  })
}
