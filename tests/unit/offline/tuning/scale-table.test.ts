import { expect, test } from 'vitest'
import type { ScaleTuning } from '../../../../src/domain/tuning-spec.ts'
import { scaleJson, scaleRows, scaleText } from '../../../../src/offline/tuning/scale-table.ts'

/** Seven just degrees on the white keys; A4 is 440 Hz, so C4 is 264. */
const WHITE: ScaleTuning = {
  id: 'white',
  kind: 'scale',
  name: 'White keys',
  pitches: ['9/8', '5/4', '4/3', '3/2', '5/3', '15/8', '2/1'],
  map: {
    first: 36,
    last: 127,
    middle: 60,
    formalOctave: 7,
    degrees: [0, null, 1, null, 2, 3, null, 4, null, 5, null, 6],
  },
  refNote: 69,
  refHz: 440,
}

test('a key: its pitch, its cents above the 1/1, and what outputs as most are make of it', () => {
  const rows = scaleRows(WHITE)
  const a = rows.find(({ key }) => key === 69)
  // 5/3 is 884.358713 cents; 16 MHz / 36364 is 439.9956 Hz (ATmega640/1280/2560 data sheet); key 69 without a bend is 440 Hz (MIDI 1.0).
  expect(a?.hz).toBe(440)
  expect(a?.cents).toBeCloseTo(884.358713, 6)
  expect(a?.timer?.hz).toBe(16e6 / 36364)
  expect(a?.bend).toMatchObject({ key: 69, bend: 8192, hz: 440, cents: 0 })
  const e = rows.find(({ key }) => key === 64)
  // C4 is 15.641 cents over its even pitch, and a just third 13.686 under an even one, so E4 at 330 Hz is 1.955 over: 80 steps of 200 / 8192 cents are 1.953.
  expect(e?.cents).toBeCloseTo(386.313714, 6)
  expect(e?.bend).toMatchObject({ key: 64, bend: 8192 + 80, cents: expect.closeTo(1.953125 - 1.955001, 5) })
  expect(rows.find(({ key }) => key === 72)?.cents).toBeCloseTo(1200, 9)
  expect(rows.find(({ key }) => key === 48)?.cents).toBeCloseTo(-1200, 9)
  expect(rows.some(({ key }) => key === 61 || key < 36)).toBe(false)
})

test('without a map the reference key is the 1/1', () => {
  const { map: _, ...plain } = WHITE
  const rows = scaleRows({ ...plain, refNote: 60, refHz: 264 })
  expect(rows).toHaveLength(128)
  expect(rows[60]).toMatchObject({ key: 60, hz: 264, cents: 0 })
  expect(rows[67]?.cents).toBeCloseTo(1200, 9)
})

test('as text: every key, those without a pitch, those that are too high or low, and the farthest', () => {
  const { map: _, ...plain } = WHITE
  const lines = scaleText({ ...plain, name: '' }).split('\n')
  expect(lines[0]).toBe('a scale: 7 degrees; A4 (69) sounds 440 Hz')
  expect(lines[1]).toMatch(
    /^ {2}note +key +Hz +cents above 1\/1 +timer Hz +cents off +bend +bend Hz +cents off$/,
  )
  expect(lines.find((line) => line.startsWith('  A4 '))).toMatch(
    /^ {2}A4 +69 +440\.0000 +0\.0000 +439\.9956 +-0\.0173 +69 0 +440\.0000 +0\.0000$/,
  )
  // Key 0 is 69 degrees lower, ten octaves less a 9/8, 0.4834 Hz: below any bend, not below the timer's 0.24 Hz.
  expect(lines.find((line) => line.startsWith('  C-1 '))).toMatch(
    / 0\.4834 +-11796\.0900 +0\.4834 +\S+ +cannot$/,
  )
  expect(lines.find((line) => line.startsWith('Farthest off by a 14-bit'))).toMatch(
    /: key .*, [-+]0\.01\d\d cents, and it cannot make \d+ of 128\.$/,
  )
  const some = scaleText(WHITE)
  expect(some).toContain('no pitch for C-1 (0) to B1 (35), C#2 (37), D#2 (39), F#2 (42) and')
  expect(some).toMatch(/^Farthest off by a 16-bit timer at 16 MHz: key /m)
  expect(some).not.toMatch(/\bsafe\b/)
})

test('as lines of JSON', () => {
  const [head, ...keys] = scaleJson(WHITE).map((line) => JSON.parse(line) as Record<string, unknown>)
  expect(head).toEqual({ kind: 'scale', name: 'White keys', degrees: 7, refNote: 69, refHz: 440 })
  expect(keys.find(({ key }) => key === 69)).toEqual({
    kind: 'key',
    key: 69,
    note: 'A4',
    hz: 440,
    cents: 884.358713,
    timer: { hz: 439.9956, cents: -0.017312 },
    bend: { hz: 440, cents: 0, key: 69, bend: 8192 },
  })
})
