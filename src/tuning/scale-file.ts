import { midiKeyToHz } from '../domain/pitch.ts'
import type { EqualTuning, ScaleTuning, TuningSpec } from '../domain/tuning-spec.ts'
import type { Kbm } from './kbm.ts'
import { parseKbm, writeKbm } from './kbm.ts'
import type { ScaleFileRead } from './scale-file-fault.ts'
import { formatScaleFaults, scaleFault } from './scale-file-fault.ts'
import { fileLines } from './scale-file-lines.ts'
import { wholeAt } from './scale-file-numbers.ts'
import type { Scl } from './scl.ts'
import { parseScl, writeScl } from './scl.ts'

/** A scale as a tuning of a show, before it has an id. */
export type Scale = Omit<ScaleTuning, 'id' | 'kind'>

export interface NamedText {
  /** What a person knows the file by. */
  readonly name: string
  readonly text: string
}

export type ScaleRead =
  | {
      readonly ok: true
      readonly scale: Scale
      /** What the file's comments say of it. */ readonly about: string
    }
  /** A line each: which file, which line, what is there, what was expected. */
  | { readonly ok: false; readonly faults: readonly string[] }

type Reference = Pick<Scale, 'map' | 'refNote' | 'refHz'>

/** Middle C: where a scale without a keyboard mapping has its 1/1. */
const MIDDLE = 60

/**
 * A scale file and the keyboard mapping that goes with it. Without one each key is one degree, key 60 is the 1/1 and sounds 261.6255653 Hz, as with twelve
 * equal steps and 440 Hz at key 69; that is our choice, since the format leaves it open.
 */
export function parseScale(scl: NamedText, kbm?: NamedText): ScaleRead {
  const scale = readScl(scl.text)
  const map = kbm && readKbm(kbm.text)
  const faults = [
    ...(scale.ok ? [] : formatScaleFaults(scl.name, scale.faults)),
    ...(kbm && map && !map.ok ? formatScaleFaults(kbm.name, map.faults) : []),
  ]
  if (!scale.ok || (map && !map.ok)) return { ok: false, faults }
  const { name, pitches, about } = scale.read
  const reference: Reference = map?.read ?? { refNote: MIDDLE, refHz: midiKeyToHz(MIDDLE) }
  return { ok: true, scale: { name, pitches, ...needed(reference) }, about }
}

/** Any tuning that can be worked out as a scale file and a keyboard mapping; undefined for one that only a player's instrument knows. */
export function writeScale(tuning: TuningSpec): { readonly scl: string; readonly kbm: string } | undefined {
  switch (tuning.kind) {
    case 'received':
      return undefined
    case 'equal':
      return writeScale(equalAsScale(tuning))
    case 'scale': {
      const { id, name, pitches, refNote, refHz } = tuning
      const linear = { first: 0, last: 127, middle: refNote, formalOctave: pitches.length, degrees: [] }
      const kbm = writeKbm({ map: tuning.map ?? linear, refNote, refHz }, id)
      return { scl: writeScl({ name, pitches }, id), kbm }
    }
  }
}

/** The same keys, their pitches as a list of cents. */
export function equalAsScale({ id, steps, periodCents, refNote, refHz }: EqualTuning): ScaleTuning {
  const name = `${steps} equal steps of ${periodCents} cents`
  const inner = Array.from({ length: steps - 1 }, (_, place) => ((place + 1) * periodCents) / steps)
  const pitches = [...inner, periodCents]
  return { id, kind: 'scale', name, pitches, refNote, refHz }
}

/** A map that says what is so without one is left out. */
function needed({ map, refNote, refHz }: Reference): Reference {
  const isPlain =
    !map || (map.degrees.length === 0 && map.first === 0 && map.last === 127 && map.middle === refNote)
  return isPlain ? { refNote, refHz } : { map, refNote, refHz }
}

/**
 * A keyboard mapping can look like a scale of few pitches, most often with lines left over: its second number is then taken for their count. Whole numbers that
 * rise are never a good mapping, since its reference key would lie above its last.
 */
function readScl(text: string): ScaleFileRead<Scl> {
  const read = parseScl(text)
  const isMap = looksLikeMap(text) && (parseKbm(text).ok || (read.ok && read.read.left > 0))
  if (!isMap) return read
  const hint = 'give it as the keyboard mapping, and the scale beside it'
  return {
    ok: false,
    faults: [scaleFault(1, 'found a keyboard mapping (.kbm)', 'a scale file (.scl)', hint)],
  }
}

function readKbm(text: string): ScaleFileRead<Kbm> {
  const read = parseKbm(text)
  if (read.ok) return read
  const scale = parseScl(text)
  if (!scale.ok || scale.read.pitches.length === 0) return read
  const hint = 'give it as the scale'
  return {
    ok: false,
    faults: [scaleFault(1, 'found a scale file (.scl)', 'a keyboard mapping (.kbm)', hint)],
  }
}

/** Begins with five whole numbers: size, first, last, middle and reference key. */
function looksLikeMap(text: string): boolean {
  const file = fileLines(text)
  if (!('lines' in file)) return false
  const first = file.lines.slice(0, 5)
  return first.length === 5 && first.every(({ text }) => wholeAt(text) !== undefined)
}
