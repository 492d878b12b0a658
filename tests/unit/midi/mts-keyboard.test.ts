import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import type { MtsKeyboardIn, MtsKeyboardOut, MtsKeyboardState } from '../../../src/midi/mts-keyboard.ts'
import { mtsKeyboard } from '../../../src/midi/mts-keyboard.ts'
import type { MtsMessage } from '../../../src/midi/mts-message.ts'

const EVEN = Array.from({ length: 128 }, (_, key) => midiKeyToHz(key))
const BASE = EVEN.map((hz, key) => (key === 0 ? null : hz * 2))
const shore = { id: 'shore', program: 3, bank: 0, base: BASE }
const tide = { id: 'tide', program: 4, bank: 2, base: BASE }

class Keyboard {
  state: MtsKeyboardState = mtsKeyboard.start({ channels: [1, 2], tunings: [shore, tide] })

  hear(event: MtsKeyboardIn): readonly MtsKeyboardOut[] {
    const step = mtsKeyboard.step(this.state, event, 0)
    this.state = JSON.parse(JSON.stringify(step.state))
    return step.out
  }

  tell(message: MtsMessage): readonly MtsKeyboardOut[] {
    return this.hear({ type: 'sysex', data: encodeMts(message) })
  }

  choose(parameter: number, value: number, channel = 1): readonly MtsKeyboardOut[] {
    return this.hear({ type: 'parameter', registered: true, channel, parameter, value: value << 7 })
  }
}

const keys = (program: number, key: number, semitones: number, more: Partial<MtsMessage> = {}): MtsMessage =>
  ({
    kind: 'keys',
    device: 0,
    realTime: true,
    program,
    changes: [{ key, word: semitones * 16384 }],
    ...more,
  }) as MtsMessage
const octave = (cents: number, channels: readonly number[], realTime = false): MtsMessage => ({
  kind: 'octave',
  device: 127,
  realTime,
  channels,
  fine: false,
  cents: Array.from({ length: 12 }, (_, place) => (place === 9 ? cents : 0)),
})
/** Hz of key 69, by tuning. */
const a = (out: readonly MtsKeyboardOut[]) =>
  out.map((one) => (one.kind === 'tuned' ? [one.tuning.id, one.tuning.hz[69], one.retune] : one.why))

test('a key is tuned in its own program; all others stay as in the base', () => {
  const keyboard = new Keyboard()
  const [out] = keyboard.tell(keys(3, 69, 70))
  if (out?.kind !== 'tuned') throw new Error('nothing tuned')
  expect(out.tuning.id).toBe('shore')
  expect(out.tuning.hz[69]).toBeCloseTo(midiKeyToHz(70), 9)
  expect(out.tuning.hz[68]).toBe(BASE[68])
  expect(out.tuning.hz[0]).toBeNull()
  expect(keyboard.tell(keys(5, 69, 70))).toEqual([])
  expect(keyboard.tell(keys(4, 69, 70))).toEqual([])
  expect(a(keyboard.tell(keys(4, 69, 70, { bank: 2, realTime: false })))).toEqual([
    ['tide', midiKeyToHz(70), false],
  ])
})

test('7F 7F 7F leaves a key as it was, and what changes nothing is not told', () => {
  const keyboard = new Keyboard()
  keyboard.tell(keys(3, 69, 70))
  expect(keyboard.tell(keys(3, 69, 0x1fffff / 16384))).toEqual([])
  expect(keyboard.tell(keys(3, 69, 70))).toEqual([])
})

test('a dump is for notes to come, a single-note change for what sounds too', () => {
  const keyboard = new Keyboard()
  const words = EVEN.map((_, key) => (key === 69 ? 69.5 : key) * 16384)
  const out = keyboard.tell({ kind: 'bulk', device: 0, program: 3, name: 'shore', words })
  expect(a(out)).toEqual([['shore', midiKeyToHz(69.5), false]])
  expect(out[0]?.kind === 'tuned' && out[0].tuning.hz[0]).toBeCloseTo(8.175799, 6)
  expect(a(keyboard.tell(keys(3, 69, 68)))).toEqual([['shore', midiKeyToHz(68), true]])
})

test('a scale/octave message speaks of all keys of every program against equal steps at 440 Hz, until a later one speaks of a key', () => {
  const keyboard = new Keyboard()
  keyboard.tell(keys(3, 69, 70))
  const up = 440 * 2 ** (10 / 1200)
  expect(a(keyboard.tell(octave(10, [2, 9])))).toEqual([
    ['shore', up, false],
    ['tide', up, false],
  ])
  expect(a(keyboard.tell(keys(3, 69, 71)))).toEqual([['shore', midiKeyToHz(71), true]])
  const again = a(keyboard.tell(octave(20, [1], true)))
  expect(again.map((one) => Array.isArray(one) && one[2])).toEqual([true, true])
})

test('a scale/octave message for none of its channels is not for it', () => {
  expect(new Keyboard().tell(octave(10, [3, 16]))).toEqual([])
  expect(new Keyboard().tell(octave(10, []))).toEqual([])
})

test('registered parameters 3 and 4 choose program and bank, on its own channels only', () => {
  const keyboard = new Keyboard()
  keyboard.tell(keys(7, 69, 70))
  keyboard.tell(keys(7, 69, 71, { bank: 2, realTime: true }))
  expect(keyboard.choose(3, 7, 3)).toEqual([])
  expect(a(keyboard.choose(3, 7, 2))).toEqual([
    ['shore', midiKeyToHz(70), false],
    ['tide', midiKeyToHz(71), false],
  ])
  expect(a(keyboard.choose(4, 2))).toEqual([['shore', midiKeyToHz(71), false]])
  expect(a(keyboard.choose(3, 8))).toEqual([
    ['shore', BASE[69], false],
    ['tide', BASE[69], false],
  ])
})

test('a reset forgets all', () => {
  const keyboard = new Keyboard()
  keyboard.tell(octave(10, [1]))
  keyboard.choose(3, 9)
  expect(a(keyboard.hear({ type: 'reset' }))).toEqual([
    ['shore', BASE[69], false],
    ['tide', BASE[69], false],
  ])
  expect(a(keyboard.tell(keys(3, 69, 70)))).toEqual([['shore', midiKeyToHz(70), true]])
})

test('what is no good says why, once somebody listens, and changes nothing', () => {
  const keyboard = new Keyboard()
  keyboard.tell(keys(3, 69, 70))
  const before = keyboard.state
  const out = keyboard.hear({ type: 'sysex', data: [0x7f, 0, 8, 2, 3, 9, 69] })
  expect(out).toEqual([{ kind: 'fault', why: '9 changes are 36 bytes, and 1 came' }])
  expect(keyboard.state).toEqual(before)
  keyboard.hear({ kind: 'tunings', tunings: [] })
  expect(keyboard.hear({ type: 'sysex', data: [0x7f, 0, 8, 2] })).toEqual([])
})

test('an edited show: another base for keys that nothing was said of, and what was said still counts', () => {
  const keyboard = new Keyboard()
  keyboard.tell(keys(3, 69, 70))
  const [one] = keyboard.hear({ kind: 'tunings', tunings: [{ ...shore, base: EVEN }, tide] })
  expect(one?.kind === 'tuned' && [one.tuning.id, one.tuning.hz[69], one.tuning.hz[68]]).toEqual([
    'shore',
    midiKeyToHz(70),
    EVEN[68],
  ])
  expect(keyboard.hear({ kind: 'tunings', tunings: [{ ...shore, base: EVEN }, tide] })).toEqual([])
})
