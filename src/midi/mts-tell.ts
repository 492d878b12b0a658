import { centsBetween, midiKeyToHz } from '../domain/pitch.ts'
import type { MtsForm, MtsOut } from '../domain/rig.ts'
import type { Cents, Channel, Hz } from '../domain/units.ts'
import { encodeMts, splitKeys } from './mts-encode.ts'
import { KEY_COUNT, OCTAVE_STEP } from './mts-message.ts'
import type { MtsWord } from './mts-word.ts'
import { hzToWord, NO_CHANGE } from './mts-word.ts'

/** A tuning to be told: the 128 keys of MIDI, key 0 first; undefined where one has no pitch. */
export interface ToldTuning {
  readonly name: string
  readonly hz: readonly (Hz | undefined)[]
}

/** What tells a tuning, each what stands between F0 and F7; or why it cannot be told, and then nothing tells it. */
export type MtsTelling =
  | { readonly messages: readonly (readonly number[])[]; readonly why: null }
  | { readonly messages: readonly []; readonly why: string }

/** Keys in one message of the form `keys`: 40 bytes with F0 and F7, 12.8 ms on a MIDI cable, which is what a lamp may have to wait. */
const KEYS_A_MESSAGE = 8
const PITCH_CLASSES = 12
/** The octave whose keys stand for their classes: 60 to 71. */
const MIDDLE = 60
const ALL_CHANNELS: readonly Channel[] = Array.from({ length: 16 }, (_, place) => place + 1)

/**
 * The messages that tell a tuning in the form of `to`; always as many, in the same order. Keys without a pitch, and those that no word reaches (8.18 to 13290 Hz), are
 * 7F 7F 7F: whoever listens leaves them as they are. The octave forms can only say what repeats in each octave of twelve keys, within -64 to 63 cents, or -100 to
 * 99.98, of equal steps at 440 Hz.
 */
export function tellTuning({ form, program, device }: MtsOut, { name, hz }: ToldTuning): MtsTelling {
  if (form === 'octave' || form === 'octave-fine') {
    const cents = octaveOf(form, hz)
    if (typeof cents === 'string') return { messages: [], why: cents }
    const fine = form === 'octave-fine'
    const message = { kind: 'octave', device, realTime: true, channels: ALL_CHANNELS, fine, cents } as const
    return { messages: [encodeMts(message)], why: null }
  }
  const words = Array.from({ length: KEY_COUNT }, (_, key) => wordOf(hz[key]))
  if (form === 'bulk')
    return { messages: [encodeMts({ kind: 'bulk', device, program, name, words })], why: null }
  const changes = words.map((word, key) => ({ key, word }))
  const whole = { kind: 'keys', device, realTime: true, program, changes } as const
  return { messages: splitKeys(whole, KEYS_A_MESSAGE).map(encodeMts), why: null }
}

function wordOf(hz: Hz | undefined): MtsWord {
  return (hz === undefined ? undefined : hzToWord(hz)) ?? NO_CHANGE
}

/** Cents of the twelve classes, C first, against equal steps; or why there are none. */
function octaveOf(form: MtsForm, hz: readonly (Hz | undefined)[]): Cents[] | string {
  const fine = form === 'octave-fine'
  const step = fine ? OCTAVE_STEP.fine : OCTAVE_STEP.coarse
  const [low, high] = fine ? [-100, 100 - OCTAVE_STEP.fine] : [-64, 63]
  const cents: Cents[] = []
  for (let place = 0; place < PITCH_CLASSES; place++) {
    const key = MIDDLE + place
    const off = offset(hz, key)
    if (off === undefined)
      return `key ${key} has no pitch, and the form "${form}" has to say one for each of the keys 60 to 71`
    if (Math.round(off / step) * step < low || Math.round(off / step) * step > high)
      return `key ${key} lies ${rounded(off)} cents from equal steps at 440 Hz, and the form "${form}" reaches ${rounded(low)} to ${rounded(high)}`
    cents.push(off)
  }
  for (let key = 0; key < KEY_COUNT; key++) {
    const off = offset(hz, key)
    const other = cents[key % PITCH_CLASSES]
    if (off === undefined || other === undefined || Math.abs(off - other) <= step / 2) continue
    return `it does not repeat in octaves of twelve keys (key ${key} lies ${rounded(off)} cents from equal steps, the same key between 60 and 71 lies ${rounded(other)})`
  }
  return cents
}

function offset(hz: readonly (Hz | undefined)[], key: number): Cents | undefined {
  const own = hz[key]
  return own === undefined ? undefined : centsBetween(own, midiKeyToHz(key))
}

function rounded(cents: Cents): string {
  return String(Number(cents.toFixed(2)))
}
