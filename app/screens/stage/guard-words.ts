import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import { FLASHES_ALLOWED } from '../../../src/domain/flash-guard.ts'
import { CONCERN_BAND } from '../../../src/domain/pulse-rate.ts'
import type { GuardSettings } from '../../../src/domain/show.ts'
import type { Amps, Seconds } from '../../../src/domain/units.ts'

/** What the engine counts of the song that plays. */
export type GuardCounts = Extract<FromEngine, { type: 'guards' }>
type FlashCounts = GuardCounts['flash']
type SupplyCounts = GuardCounts['supply']

/** How it stands with a guard: what it is, in the largest words, and its figures. */
export interface GuardLine {
  readonly state: string
  readonly figures: string
}

export interface FlashLine extends GuardLine {
  /** It stands as a warning, for the rest of the song. */
  readonly isWarning: boolean
}

/** `counts`: of the song that plays; until there are any, what the show says is all that is known. */
export function flashLine(guard: FlashGuard, counts: FlashCounts | undefined): FlashLine {
  const { action, since } = counts ?? { action: guard.action, since: undefined }
  if (action === 'off') {
    const day = since ?? (guard.action === 'off' ? guard.since : undefined)
    return {
      isWarning: true,
      state: day === undefined ? 'Flash guard is off' : `Flash guard is off since ${day}`,
      figures: 'flashes are not told, nothing is held back',
    }
  }
  if (!counts) return { isWarning: false, state: FLASH_STATES[action], figures: NOT_YET }
  const acted = actedWords(counts)
  return {
    isWarning: counts.perSecondMax > FLASHES_ALLOWED || counts.bandSeconds > 0,
    state: acted === '' ? FLASH_STATES[action] : `${FLASH_STATES[action]}: ${acted}`,
    figures: flashFigures(counts),
  }
}

const FLASH_STATES = {
  warn: 'Flash guard warns',
  fold: 'Flash guard folds',
  glow: 'Flash guard glows',
  limit: 'Flash guard limits',
} as const

/** What the guard did to what was played, as it is set now or was before in this song. */
function actedWords({ folded, glowed, tied }: FlashCounts): string {
  return [
    ...(folded > 0 ? [counted(folded, 'rate moved', 'rates moved')] : []),
    ...(glowed > 0 ? [`kept lit ${counted(glowed, 'time', 'times')}`] : []),
    ...(tied > 0 ? [counted(tied, 'note tied', 'notes tied')] : []),
  ].join(', ')
}

/** In the second that ends now, in the one that had the most, and in the band of most concern. */
function flashFigures({ lastSecond, perSecondMax, bandSeconds }: FlashCounts): string {
  const allowed =
    perSecondMax > FLASHES_ALLOWED
      ? `, most ${perSecondMax} (WCAG allows ${FLASHES_ALLOWED})`
      : perSecondMax > 0
        ? `, most ${perSecondMax}`
        : ''
  const band = bandSeconds > 0 ? `, ${duration(bandSeconds)} at ${CONCERN_BAND.join(' to ')} Hz` : ''
  return `${counted(lastSecond, 'flash', 'flashes')} a second${allowed}${band}`
}

/** The fullest supply (at its peak; of equal ones the first), by how much it was ever over, and what the guard did for any. */
export function supplyLine(
  action: GuardSettings['supply']['action'],
  counts: SupplyCounts | undefined,
): GuardLine {
  const fullest = counts?.supplies.reduce<SupplyCounts['supplies'][number] | undefined>(
    (most, one) => (most && most.peakAmps / most.limitAmps >= one.peakAmps / one.limitAmps ? most : one),
    undefined,
  )
  if (!counts || !fullest) return { state: SUPPLY_STATES[action], figures: NOT_YET }
  const { id, amps, limitAmps, peakAmps } = fullest
  const isPast = peakAmps > limitAmps * (1 + ROUNDING)
  const done = [
    ...(isPast ? [`over by ${ampsOf(Math.max(0.1, peakAmps - limitAmps))} A`] : []),
    ...(counts.refused > 0 ? [`${counts.refused} refused`] : []),
    ...(counts.exceeded > 0 ? [counted(counts.exceeded, 'time', 'times')] : []),
    ...(counts.stolen > 0 ? [`${counts.stolen} darkened`] : []),
    ...(counts.heldDown > 0 ? [`${counts.heldDown} held down`] : []),
  ]
  return {
    state: `${shortened(id)} ${ampsOf(amps)} of ${ampsOf(limitAmps)} A`,
    figures: [
      ...(counts.supplies.length > 1 ? [`fullest of ${counts.supplies.length}`] : []),
      ...(done.length > 0 ? done : [NONE_YET[counts.action]]),
    ].join(', '),
  }
}

const NOT_YET = 'nothing is counted yet'
const SUPPLY_STATES = {
  refuse: 'Supply guard refuses',
  steal: 'Supply guard steals',
  warn: 'Supply guard warns',
} as const
const NONE_YET = { refuse: 'none refused', steal: 'none darkened', warn: 'never over' } as const

const MOST_OF_ID = 12

/** As the guard itself has it: a sum of floats is not past a limit by its last digits. */
const ROUNDING = 1e-9

function counted(count: number, one: string, more: string): string {
  return `${count} ${count === 1 ? one : more}`
}

/** With a decimal while it is short, so that the first tenths are seen; then whole seconds, and minutes. */
function duration(seconds: Seconds): string {
  if (seconds < 9.95) return `${Math.max(0.1, seconds).toFixed(1)} s`
  return seconds < 600 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`
}

/** An id can be long, and there is little room. */
function shortened(id: string): string {
  return id.length > MOST_OF_ID ? `${id.slice(0, MOST_OF_ID - 1)}…` : id
}

function ampsOf(amps: Amps): string {
  return amps.toFixed(amps < 99.95 ? 1 : 0)
}
