import { FLASHES_ALLOWED } from '../../../src/domain/flash-guard.ts'
import type { Micros } from '../../../src/domain/units.ts'
import type { GuardCounts } from './guard-words.ts'

/** What was last said aloud of the guards, and what that went by. */
export interface GuardNews {
  readonly song: string
  /** For those who hear the page: the latest change, and nothing that counts on. */
  readonly text: string
  readonly hasFlashActed: boolean
  readonly hasSupplyActed: boolean
  /** More flashes than are allowed were told, and their end was not. */
  readonly isOver: boolean
  /** Since when there have been no more than are allowed; null: there are more, or there were none. */
  readonly calmSince: Micros | null
}

export const NO_GUARD_NEWS: GuardNews = {
  song: '',
  text: '',
  hasFlashActed: false,
  hasSupplyActed: false,
  isOver: false,
  calmSince: null,
}

/** Flashes that come and go around what is allowed would be told each second: their end is told after so long. */
const CALM: Micros = 5_000_000

/**
 * What is to be said after another look at `now` (engine time): that a guard has acted for the first time in this song, and that there begin or have ended to be more
 * than three flashes a second. The same text as before: nothing.
 */
export function guardNews(
  before: GuardNews,
  song: string,
  { flash, supply }: GuardCounts,
  now: Micros,
): GuardNews {
  const known = before.song === song ? before : { ...NO_GUARD_NEWS, song }
  // Off: flashes are counted and not told, nor that they have ended.
  const isOff = flash.action === 'off'
  const last = isOff && known.isOver ? { ...known, text: '', isOver: false, calmSince: null } : known
  const isMany = !isOff && flash.lastSecond > FLASHES_ALLOWED
  const calmSince = isMany || !last.isOver ? null : (last.calmSince ?? now)
  const hasEnded = calmSince !== null && now - calmSince >= CALM
  const isOver = isMany || (last.isOver && !hasEnded)
  const hasFlashActed = flash.folded + flash.tied + flash.glowed > 0
  const hasSupplyActed = supply.refused + supply.stolen + supply.heldDown + supply.exceeded > 0
  const said = [
    ...(hasFlashActed && !last.hasFlashActed ? ['The flash guard has acted.'] : []),
    ...(hasSupplyActed && !last.hasSupplyActed ? ['The supply guard has acted.'] : []),
    ...(isOver && !last.isOver ? [`More than ${FLASHES_ALLOWED} flashes a second.`] : []),
    ...(last.isOver && !isOver ? [`No more than ${FLASHES_ALLOWED} flashes a second now.`] : []),
  ]
  return {
    song,
    text: said.length > 0 ? said.join(' ') : last.text,
    hasFlashActed: hasFlashActed || last.hasFlashActed,
    hasSupplyActed: hasSupplyActed || last.hasSupplyActed,
    isOver,
    calmSince: hasEnded ? null : calmSince,
  }
}
