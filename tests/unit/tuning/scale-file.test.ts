import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { EqualTuning } from '../../../src/domain/tuning-spec.ts'
import { equalKeyToHz } from '../../../src/tuning/equal.ts'
import { parseScale, writeScale } from '../../../src/tuning/scale-file.ts'
import { scaleKeyToHz } from '../../../src/tuning/scale.ts'

const scl = (text: string) => ({ name: 'reed.scl', text })
const kbm = (text: string) => ({ name: 'reed.kbm', text })
const THREE = 'Three\n3\n9/8\n3/2\n2/1\n'

test('without a keyboard mapping key 60 is the 1/1 and sounds what it does in twelve equal steps at 440 Hz', () => {
  const scale = { name: 'Three', pitches: ['9/8', '3/2', '2/1'], refNote: 60, refHz: midiKeyToHz(60) }
  expect(parseScale(scl(THREE))).toEqual({ ok: true, scale, about: '' })
  // ISO 16 and twelve equal steps: 440 x 2^(-9/12).
  expect(scale.refHz).toBeCloseTo(261.6255653, 7)
})

test('a mapping comes with its reference; of another size than the scale it is taken as it is', () => {
  expect(parseScale(scl(THREE), kbm('5\n36\n96\n60\n69\n440.0\n3\n0\nx\n1\nx\n2\n'))).toMatchObject({
    ok: true,
    scale: {
      map: { first: 36, last: 96, middle: 60, formalOctave: 3, degrees: [0, null, 1, null, 2] },
      refNote: 69,
      refHz: 440,
    },
  })
})

test('a mapping that says only what is so without one is left out', () => {
  const read = parseScale(scl(THREE), kbm('0\n0\n127\n57\n57\n220.0\n3\n'))
  expect(read).toMatchObject({ ok: true, scale: { refNote: 57, refHz: 220 } })
  expect(JSON.stringify(read)).not.toContain('"map"')
  // Here some keys are not mapped.
  const low = parseScale(scl(THREE), kbm('0\n0\n96\n57\n57\n220.0\n3\n'))
  expect(low).toMatchObject({ scale: { map: { first: 0, last: 96, degrees: [] } } })
  const high = parseScale(scl(THREE), kbm('0\n36\n127\n57\n57\n220.0\n3\n'))
  expect(high).toMatchObject({ scale: { map: { first: 36, last: 127, degrees: [] } } })
  // Here the 1/1 is on another key than the reference.
  expect(parseScale(scl(THREE), kbm('0\n0\n127\n60\n57\n220.0\n3\n'))).toMatchObject({
    scale: { map: { middle: 60 } },
  })
})

test('faults of both files are told with file and line', () => {
  expect(parseScale(scl('x\n1\n-3/2'), kbm('0\n0\n200\n60\n60\n0\n3'))).toEqual({
    ok: false,
    faults: [
      expect.stringMatching(/^reed\.scl \(line 3\): found "-3\/2"; expected /),
      expect.stringMatching(/^reed\.kbm \(line 3\): found "200"; expected the last key that is mapped/),
      expect.stringMatching(/^reed\.kbm \(line 6\): found "0"; expected its frequency/),
    ],
  })
})

test('of very many faults a hundred are told, the rest counted; of a long line its beginning', () => {
  const hundred = parseScale(scl(`x\n100\n${'0\n'.repeat(100)}`))
  expect(hundred.ok ? [] : hundred.faults.map((fault) => fault.slice(0, 14))).toEqual(
    Array.from({ length: 100 }, (_, place) => `reed.scl (line ${place + 3}`.slice(0, 14)),
  )
  const long = parseScale(scl(`x\n1\n${'fern'.repeat(100)}`))
  expect(long).toMatchObject({
    faults: [expect.stringContaining(`found "${'fern'.repeat(10)}..."; expected`)],
  })
  const read = parseScale(scl(`x\n1000\n${'0\n'.repeat(1000)}`))
  expect(read.ok ? [] : read.faults).toHaveLength(101)
  expect(read.ok ? '' : read.faults[100]).toBe('reed.scl: and 900 more')
})

test.each([
  ['12\n0\n127\n60\n69\n440.0\n12\n0\n1\n2\n3\n4\n5\n6\n7\n8\n9\n10\n11\n'],
  ['! linear\n0\n0\n127\n60\n60\n261.6\n12\n'],
  ['12\n1\n127\n60\n69\n440.0\n12\n0\n'],
  // As a scale of five pitches it would have no line left over.
  ['0\n5\n127\n60\n60\n261.6\n12\n'],
  // No good mapping either, and one line left over.
  ['12\n4\n200\n60\n69\n440.0\n12\n'],
  ['12\n36\n96\n60\n69\n440.0\n12\n0\nx\n2\nx\n4\n5\nx\n7\nx\n9\n'],
])('a keyboard mapping given as a scale is told, and not taken for a scale of few pitches: %j', (text) => {
  expect(parseScale(scl(text))).toEqual({
    ok: false,
    faults: [
      'reed.scl (line 1): found a keyboard mapping (.kbm); expected a scale file (.scl); give it as the keyboard mapping, and the scale beside it',
    ],
  })
})

test('a scale of whole numbers is a scale, whatever it is called', () => {
  expect(parseScale(scl('5\n5\n6\n7\n8\n9\n10\n'))).toMatchObject({
    ok: true,
    scale: { name: '5', pitches: ['6', '7', '8', '9', '10'] },
  })
  expect(parseScale(scl('1\n0\n5\n'))).toMatchObject({ ok: true, scale: { name: '1', pitches: [] } })
})

test.each([
  [THREE],
  ['12 notes\n12\n100.\n200.\n300.\n400.\n500.\n600.\n700.\n800.\n900.\n1000.\n1100.\n2/1\n'],
])('a scale given as a keyboard mapping is told', (text) => {
  expect(parseScale(scl(THREE), kbm(text))).toEqual({
    ok: false,
    faults: [
      'reed.kbm (line 1): found a scale file (.scl); expected a keyboard mapping (.kbm); give it as the scale',
    ],
  })
})

test.each<Partial<EqualTuning>>([
  {},
  { steps: 1 },
  { steps: 31, refNote: 60, refHz: 261.6255653005986 },
  { steps: 13, periodCents: 1901.955, refNote: 57, refHz: 219.7 },
  { steps: 1000, periodCents: 12_000 },
])('an equal tuning is written as a list of cents that sounds the same on every key: %j', (change) => {
  const equal: EqualTuning = {
    id: 'even',
    kind: 'equal',
    steps: 12,
    periodCents: 1200,
    refNote: 69,
    refHz: 440,
    ...change,
  }
  const written = writeScale(equal)
  const read = written && parseScale(scl(written.scl), kbm(written.kbm))
  if (!read?.ok) throw new Error(JSON.stringify(read))
  for (let key = 0; key < 128; key++) {
    const hz = scaleKeyToHz({ id: 'x', kind: 'scale', ...read.scale }, key) ?? NaN
    expect(Math.abs(hz / equalKeyToHz(equal, key) - 1)).toBeLessThan(1e-12)
  }
})

test('what an instrument says while it plays cannot be written', () => {
  expect(
    writeScale({ id: 'heard', kind: 'received', player: 'keys', program: 0, base: 'even' }),
  ).toBeUndefined()
})
