import type { TuningSpec } from '../../../src/domain/tuning-spec.ts'
import { cents } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'
import type { Tally } from './pitch-rows.ts'
import { HEARD_CENTS } from './pitch-rows.ts'

/** `A4 (69)` */
export function keyWords(key: number): string {
  return `${noteName(key)} (${key})`
}

/** Hertz to about a hundredth of a cent, without the unit: `440.000`, `41.2034`, `4186.29`. */
export function fineHertz(hz: number): string {
  return hz.toFixed(hz < 100 ? 4 : hz < 1000 ? 3 : 2)
}

/** How far a key was moved to fit its lamp: `2 up`, `1 down`, nothing where it stays. */
export function octaveWords(octaves: number | null): string {
  if (octaves === null) return 'refused'
  if (octaves === 0) return ''
  return `${Math.abs(octaves)} ${octaves > 0 ? 'up' : 'down'}`
}

/** The lamps' errors in sentences. */
export function tallyWords(
  { worst, pitches, heard, refused, unmapped }: Tally,
  nameOf: (lamp: string) => string,
): string {
  const without = unmappedWords(unmapped)
  if (pitches === 0) return without || 'The strategy of this part lights none of its lamps.'
  if (!worst) return `No lamp of this part can sound any of its keys. ${without}`.trim()
  const { row, lamp } = worst
  const error = cents(row.cents ?? 0)
  const figures =
    row.hz === undefined || row.realHz === undefined
      ? ''
      : `: ${fineHertz(row.hz)} Hz wanted, ${fineHertz(row.realHz)} Hz made`
  const off =
    heard === 0
      ? `No pitch is more than ${HEARD_CENTS} cents off.`
      : `${heard} of ${pitches} pitches ${heard === 1 ? 'is' : 'are'} more than ${HEARD_CENTS} cents off.`
  const refusals = refused.map(({ lamp: id, keys }) => `${nameOf(id)} ${keys}`).join(', ')
  return [
    `Farthest off: ${keyWords(row.key)} on ${nameOf(lamp)}, ${error} cents${figures}.`,
    off,
    refused.length === 0 ? '' : `Refused keys: ${refusals}.`,
    without,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ')
}

function unmappedWords(keys: number): string {
  if (keys === 0) return ''
  return `${keys} ${keys === 1 ? 'key is' : 'keys are'} not mapped: ${keys === 1 ? 'it has' : 'they have'} no pitch in this tuning.`
}

/** `12 equal steps of 1200 cents, 100 cents each; A4 (69) sounds 440 Hz` */
export function tuningWords(tuning: TuningSpec): string {
  switch (tuning.kind) {
    case 'equal': {
      const { steps, periodCents, refNote, refHz } = tuning
      const each = Number((periodCents / steps).toFixed(3))
      return `${steps} equal steps of ${periodCents} cents, ${each} cents each; ${keyWords(refNote)} sounds ${refHz} Hz`
    }
    case 'scale': {
      const { name, pitches, map, refNote, refHz } = tuning
      const what = name === '' ? '' : `${name}; `
      return `${what}${pitches.length} ${pitches.length === 1 ? 'pitch' : 'pitches'}${map ? ', with a key map' : ''}; ${keyWords(refNote)} sounds ${refHz} Hz`
    }
    case 'received':
      return `as ${tuning.player} sends it, tuning program ${tuning.program}${tuning.bank === undefined ? '' : ` of bank ${tuning.bank}`}; until then as ${tuning.base}`
  }
}
