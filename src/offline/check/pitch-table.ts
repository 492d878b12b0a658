import { shiftByCents } from '../../domain/pitch.ts'
import type { Lamp, Output } from '../../domain/rig.ts'
import type { KeyTuning } from '../../domain/tuning-spec.ts'
import type { Cents, Hz, Key } from '../../domain/units.ts'
import { foldIntoRange } from '../../tuning/fold.ts'
import { quantise } from '../../tuning/quantise.ts'
import { keyToHz } from '../../tuning/tuning.ts'
import type { Fold } from '../../tuning/unseen.ts'
import { noteFloor, mayFlashAt } from '../../tuning/unseen.ts'
import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { Reach } from './strategy-reach.ts'

/** What becomes of one key on one lamp; `no-key`, `no-octave` and `no-rate`: refused by the tuning, by the lamp's range, or by its output. */
export type Pitch =
  | { readonly hz: Hz; readonly realHz: Hz; readonly cents: Cents; readonly octaves: number }
  | 'no-key'
  | 'no-octave'
  | 'no-rate'

/** By sounding key, -127 to 254. The same steps, in the same order, as when it is played, with no bend. */
export interface PitchTable {
  pitch(key: Key): Pitch
  /** What is to be said of the pitch, as bits of `TRAITS`; 0: nothing. */
  traits(key: Key): number
  /** How far off it comes out, either way; -1 where it is refused. */
  off(key: Key): Cents
}

export const TRAITS = { noOctave: 1, noRate: 2, up: 4, down: 8, slow: 16, off: 32, noKey: 64 } as const
const KNOWN = 128

/** From here a tuning error is heard, about (common practice, no source). */
export const HEARD_CENTS: Cents = 5

/** `fold`: what the song's flash guard moves. */
export type PitchTables = (
  tuning: KeyTuning,
  lamp: Lamp,
  output: Output,
  reach: Reach,
  fold?: Fold,
) => PitchTable

/** Makes pitch tables; lamps that would do the same share one, each key is worked out once. */
export function createPitchTables(): PitchTables {
  const tables = new Map<string, PitchTable>()
  return (tuning, lamp, output, reach, fold) => {
    const { ratio, cents } = reach
    const shift = cents + lamp.trimCents
    const id = `${tuning.id} ${output.id} ${slotOf(lamp, output)} ${lamp.lowHz} ${lamp.highHz} ${ratio} ${shift} ${fold ? 'unseen' : ''}`
    const known = tables.get(id)
    if (known) return known
    // Transposing moves 0..127 by up to 127 either way.
    const pitches: (Pitch | undefined)[] = Array.from({ length: 3 * 128 })
    const traits = new Uint8Array(3 * 128)
    const table: PitchTable = {
      pitch: (key) => (pitches[key + 128] ??= pitchOf(askedHz(tuning, lamp, reach, key), lamp, output, fold)),
      traits: (key) => {
        const known = traits[key + 128] ?? 0
        if (known !== 0) return known & ~KNOWN
        const found = traitsOf(table.pitch(key))
        traits[key + 128] = found | KNOWN
        return found
      },
      off: (key) => {
        const pitch = table.pitch(key)
        return typeof pitch === 'string' ? -1 : Math.abs(pitch.cents)
      },
    }
    tables.set(id, table)
    return table
  }
}

/** What a sounding key asks of a lamp, before its range, with no bend; undefined where the tuning has no pitch for it. */
export function askedHz(tuning: KeyTuning, lamp: Lamp, { ratio, cents }: Reach, key: Key): Hz | undefined {
  const hz = keyToHz(tuning, key)
  return hz === undefined ? undefined : shiftByCents(hz * ratio, cents + lamp.trimCents)
}

/** Where a lamp is one fixed key, the slot matters; elsewhere lamps of one output are alike. */
function slotOf(lamp: Lamp, output: Output): number {
  return output.kind === 'midi' && output.layout === 'note-per-lamp' ? lamp.slot : 0
}

function pitchOf(asked: Hz | undefined, lamp: Lamp, output: Output, fold: Fold | undefined): Pitch {
  if (asked === undefined) return 'no-key'
  const folded = foldIntoRange(asked, noteFloor(lamp.lowHz, fold), lamp.highHz)
  if (!folded) return 'no-octave'
  let { hz, octaves } = folded
  let made = quantise(hz, output, lamp.slot)
  // A coarse bend may come out lower than it was asked.
  while (made && !mayFlashAt(made.realHz, false, fold)) {
    hz *= 2
    octaves += 1
    made = hz > lamp.highHz ? undefined : quantise(hz, output, lamp.slot)
  }
  return made ? { hz, realHz: made.realHz, cents: made.cents, octaves } : 'no-rate'
}

function traitsOf(pitch: Pitch): number {
  if (pitch === 'no-key') return TRAITS.noKey
  if (pitch === 'no-octave') return TRAITS.noOctave
  if (pitch === 'no-rate') return TRAITS.noRate
  return (
    (pitch.octaves > 0 ? TRAITS.up : 0) |
    (pitch.octaves < 0 ? TRAITS.down : 0) |
    (pitch.realHz < SEEN_STEADY_HZ ? TRAITS.slow : 0) |
    (Math.abs(pitch.cents) > HEARD_CENTS ? TRAITS.off : 0)
  )
}
