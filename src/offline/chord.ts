import type { LampId, PartId, SongId, TuningId } from '../domain/ids.ts'
import { centsBetween } from '../domain/pitch.ts'
import type { Show } from '../domain/show.ts'
import type { Part, Song } from '../domain/song.ts'
import type { Cents, Hz, Key } from '../domain/units.ts'
import { keyToHz } from '../tuning/tuning.ts'
import type { PartLamp, PartLamps } from './part-lamps.ts'
import { keysOf, partLamps } from './part-lamps.ts'
import type { SimpleRatio } from './partial-beats.ts'
import { partialBeats, simpleRatioNear } from './partial-beats.ts'

/** A key of the chord on the lamps where it comes to the same. */
export interface ChordTone {
  /** As played, or as a step has it, before transposing. */
  readonly key: Key
  readonly lamps: readonly LampId[]
  /** The strategy's: of the partial that these lamps sound. */
  readonly ratio: number
  /** What the tuning and the ratio want, in the octave that sounds; without trims and detunes. */
  readonly wantedHz: Hz
  /** Octaves moved to fit the lamp. */
  readonly octaves: number
  /** What is asked of the lamp, trims and detunes in it; what it makes; how far that is off what was asked. */
  readonly hz: Hz
  readonly realHz: Hz
  readonly cents: Cents
}

/** A key that sounds nowhere on these lamps. */
export interface ChordRefusal {
  readonly key: Key
  readonly lamps: readonly LampId[]
  /** The tuning has no pitch for it; no octave or rate of it fits; the part or its strategy does not take it there. */
  readonly why: 'unmapped' | 'range' | 'not-taken'
}

/** Two tones, the lower wanted pitch first. */
export interface ChordInterval {
  readonly lower: ChordTone
  readonly upper: ChordTone
  readonly wantedRatio: number
  readonly wantedCents: Cents
  readonly madeCents: Cents
  /** Made less wanted. */
  readonly errorCents: Cents
  /** What trims and detunes have in that; the rest is rounding. */
  readonly trimCents: Cents
  /** Partials that nearly coincide, where the wanted interval is near a simple ratio: how often they would beat, and do. */
  readonly partials?:
    { readonly ratio: SimpleRatio; readonly wantedBeats: Hz; readonly beats: Hz } | undefined
}

/** Two tones that are to be one pitch, and how often they beat. */
export interface ChordBeat {
  readonly one: ChordTone
  readonly other: ChordTone
  readonly hz: Hz
}

/** What makes pitches move by themselves; figures are of where they rest. */
export type PitchMotion = 'glide' | 'vibrato' | 'wander' | 'pulse'

export interface Chord {
  /** That the part names, or its song. */
  readonly tuning: TuningId
  /** What the figures are of in place of a received tuning. */
  readonly base?: TuningId | undefined
  /** `in-turn`: the strategy has one voice, so intervals are between notes that follow each other. */
  readonly sounds: 'together' | 'in-turn'
  readonly motions: readonly PitchMotion[]
  readonly tones: readonly ChordTone[]
  readonly refused: readonly ChordRefusal[]
  readonly intervals: readonly ChordInterval[]
  readonly beats: readonly ChordBeat[]
}

const ONE_VOICE: readonly string[] = ['unison', 'partials', 'travel']
/** Wanted pitches this close are one. */
const SAME: Cents = 1e-6

/**
 * What keys played together really sound on a part's lamps, without bends, by the same steps as when they are struck; all intervals are of what sounds, octaves
 * moved and all. `keys` as played; `lamps`: only on those. A MIDI lamp that a voice comes to without a strike may be a bend step off that, where steps do not divide
 * a semitone. Undefined where the show has no such song or part.
 */
export function chord(
  show: Show,
  songId: SongId,
  partId: PartId,
  keys: readonly Key[],
  lamps?: readonly LampId[],
): Chord | undefined {
  const found = partLamps(show, songId, partId)
  return found && chordOf(found, keys, lamps)
}

/** The same of a part that is found already. */
export function chordOf(found: PartLamps, keys: readonly Key[], lamps?: readonly LampId[]): Chord {
  const { song, part, tuning } = found
  const tones: ChordTone[] = []
  const refused: ChordRefusal[] = []
  for (const key of [...new Set(keys)].sort((a, b) => a - b)) {
    for (const { id, lit } of found.lamps) {
      if (lamps && !lamps.includes(id)) continue
      const tone = toneOf(found, key, id, lit)
      if ('why' in tone) joined(refused, tone, ({ key: other, why }) => other === key && why === tone.why)
      else joined(tones, tone, (other) => isSame(other, tone))
    }
  }
  const named = part.tuning ?? song.tuning
  const sounds = ONE_VOICE.includes(part.strategy.kind) ? 'in-turn' : 'together'
  const pairs = pairsOf(tones, sounds)
  return {
    tuning: named,
    ...(tuning.id === named ? {} : { base: tuning.id }),
    sounds,
    motions: motionsOf(song, part),
    tones,
    refused,
    intervals: pairs.filter((pair) => !isUnison(pair)).map(intervalOf),
    beats: pairs
      .filter(isUnison)
      .map(([one, other]) => ({ one, other, hz: Math.abs(one.realHz - other.realHz) })),
  }
}

/** What moves a part's pitches by itself. */
export function motionsOf({ wander }: Song, { glide, vibrato, pulse }: Part): PitchMotion[] {
  return [
    ...(glide ? ['glide' as const] : []),
    ...(vibrato ? ['vibrato' as const] : []),
    ...(wander ? ['wander' as const] : []),
    ...(pulse ? ['pulse' as const] : []),
  ]
}

function toneOf(
  { part, tuning }: PartLamps,
  key: Key,
  id: LampId,
  lit: PartLamp | undefined,
): ChordTone | ChordRefusal {
  const lamps = [id]
  if (!lit || !keysOf(part, lit.reach).includes(key)) return { key, lamps, why: 'not-taken' }
  const sounding = key + part.transpose
  const pitch = lit.table.pitch(sounding)
  const tuned = keyToHz(tuning, sounding)
  if (tuned === undefined || pitch === 'no-key') return { key, lamps, why: 'unmapped' }
  if (typeof pitch === 'string') return { key, lamps, why: 'range' }
  const { ratio } = lit.reach
  return { key, lamps, ratio, wantedHz: tuned * ratio * 2 ** pitch.octaves, ...pitch }
}

function isSame(a: ChordTone, b: ChordTone): boolean {
  return a.key === b.key && a.ratio === b.ratio && a.hz === b.hz && a.realHz === b.realHz
}

/** Puts a lamp to those that come to the same. */
function joined<T extends { readonly lamps: readonly LampId[] }>(
  all: T[],
  one: T,
  isLike: (other: T) => boolean,
): void {
  const at = all.findIndex(isLike)
  const known = all[at]
  if (known) all[at] = { ...known, lamps: [...known.lamps, ...one.lamps] }
  else all.push(one)
}

/** Every two tones that can be heard against each other: on lamps of their own, or one after the other. The lower first. */
function pairsOf(tones: readonly ChordTone[], sounds: Chord['sounds']): [ChordTone, ChordTone][] {
  return tones.flatMap((one, at) =>
    tones.slice(at + 1).flatMap((other): [ChordTone, ChordTone][] => {
      const follows = sounds === 'in-turn' && one.key !== other.key
      const lamps = new Set([...one.lamps, ...other.lamps])
      if (follows ? one.ratio !== other.ratio : lamps.size < 2) return []
      return [other.wantedHz < one.wantedHz ? [other, one] : [one, other]]
    }),
  )
}

function isUnison([one, other]: readonly [ChordTone, ChordTone]): boolean {
  return Math.abs(centsBetween(other.wantedHz, one.wantedHz)) < SAME
}

function intervalOf([lower, upper]: readonly [ChordTone, ChordTone]): ChordInterval {
  const wantedCents = centsBetween(upper.wantedHz, lower.wantedHz)
  const madeCents = centsBetween(upper.realHz, lower.realHz)
  const ratio = simpleRatioNear(wantedCents)
  return {
    lower,
    upper,
    wantedRatio: upper.wantedHz / lower.wantedHz,
    wantedCents,
    madeCents,
    errorCents: madeCents - wantedCents,
    trimCents: centsBetween(upper.hz, lower.hz) - wantedCents,
    ...(ratio && {
      partials: {
        ratio,
        wantedBeats: partialBeats(ratio, lower.wantedHz, upper.wantedHz),
        beats: partialBeats(ratio, lower.realHz, upper.realHz),
      },
    }),
  }
}
