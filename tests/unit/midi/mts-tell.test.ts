import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { MtsForm } from '../../../src/domain/rig.ts'
import { decodeMts } from '../../../src/midi/mts-decode.ts'
import { tellTuning } from '../../../src/midi/mts-tell.ts'
import { keyToHz, tuningTable } from '../../../src/tuning/tuning.ts'

const to = (form: MtsForm) => ({ form, program: 5, device: 16 })
// Quarter-comma meantone from C: each fifth is a quarter of 81/80 (21.506290 cents) under 3/2, 696.578428 cents (any table of temperaments).
const FIFTH = 696.578428
const MEANTONE = [0, 7, 2, -3, 4, -1, 6, 1, 8, 3, -2, 5].map(
  (fifths) => (((fifths * FIFTH) % 1200) + 1200) % 1200,
)
const meantone = {
  id: 'mean',
  kind: 'scale',
  name: '',
  pitches: [...MEANTONE.slice(1), '2/1'],
  refNote: 60,
  refHz: midiKeyToHz(60),
} as const
const even = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 } as const

test('keys: sixteen messages of eight keys, 40 bytes each with F0 and F7', () => {
  const { messages } = tellTuning(to('keys'), { name: 'mean', hz: tuningTable(meantone) })
  expect(messages.map((data) => data.length + 2)).toEqual(Array(16).fill(40))
  const changes = messages.flatMap((data) => {
    const one = decodeMts(data)
    if (one?.kind !== 'keys') throw new Error('no keys')
    expect(one).toMatchObject({ realTime: true, program: 5, device: 16 })
    return one.changes
  })
  expect(changes.map(({ key }) => key)).toEqual(Array.from({ length: 128 }, (_, key) => key))
  expect(changes[69]?.word).toBe(Math.round((60 + (MEANTONE[9] ?? 0) / 100) * 16384))
})

test('a key without a pitch, and one that no word reaches, is 7F 7F 7F', () => {
  const hz = tuningTable(even).map((one, key) => (key === 60 ? undefined : (one ?? 0) * 4))
  const { messages } = tellTuning(to('bulk'), { name: 'high', hz })
  const one = decodeMts(messages[0] ?? [])
  if (one?.kind !== 'bulk') throw new Error('no dump')
  expect([one.words[60], one.words[104], one.words[103]]).toEqual([0x1fffff, 0x1fffff, 127 * 16384])
  expect(one.name).toBe('high            ')
})

test('a name longer than sixteen is cut', () => {
  const { messages } = tellTuning(to('bulk'), { name: 'glasshouse-second-night', hz: tuningTable(even) })
  expect(decodeMts(messages[0] ?? [])).toMatchObject({ name: 'glasshouse-secon' })
})

test('octave forms: each class against equal steps at 440 Hz', () => {
  const rounded = (form: MtsForm) => {
    const one = decodeMts(tellTuning(to(form), { name: 'mean', hz: tuningTable(meantone) }).messages[0] ?? [])
    if (one?.kind !== 'octave') throw new Error('no octave')
    expect(one.channels).toHaveLength(16)
    return one.cents
  }
  const off = MEANTONE.map((cents, place) => cents - place * 100)
  expect(rounded('octave')).toEqual(off.map((cents) => Math.round(cents) + 0))
  rounded('octave-fine').forEach((cents, place) =>
    expect(Math.abs(cents - (off[place] ?? 0))).toBeLessThanOrEqual(50 / 8192 + 1e-9),
  )
})

test.each<[string, MtsForm, (number | undefined)[], RegExp]>([
  ['19 equal steps', 'octave', tuningTable({ ...even, steps: 19 }), /lies .* cents from equal steps/],
  ['a stretched octave', 'octave', tuningTable({ ...even, periodCents: 1202 }), /does not repeat in octaves/],
  ['a key without a pitch', 'octave-fine', tuningTable(even).with(63, undefined), /key 63 has no pitch/],
  [
    '65 cents under 440 Hz',
    'octave',
    tuningTable({ ...even, refHz: 440 * 2 ** (-65 / 1200) }),
    /reaches -64 to 63/,
  ],
])('%s cannot be told as "%s", and nothing is', (_, form, hz, why) => {
  expect(tellTuning(to(form), { name: 'odd', hz })).toMatchObject({
    messages: [],
    why: expect.stringMatching(why),
  })
})

test('432 Hz fits into both forms, 19 equal steps into keys and bulk', () => {
  const low = tuningTable({ ...even, refHz: 432 })
  for (const form of ['octave', 'octave-fine'] as const)
    expect(tellTuning(to(form), { name: 'low', hz: low }).why).toBeNull()
  const nineteen = { ...even, steps: 19 }
  for (const form of ['keys', 'bulk'] as const) {
    const { messages, why } = tellTuning(to(form), { name: 'nineteen', hz: tuningTable(nineteen) })
    expect([why, messages.length > 0, keyToHz(nineteen, 69)]).toEqual([null, true, 440])
  }
})
