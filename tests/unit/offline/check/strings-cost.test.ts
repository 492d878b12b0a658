import { expect, test } from 'vitest'
import { found, lead, quietHouse, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'

const LAMPS = ['fern', 'moss', 'reed', 'sedge']

function house(more: RawShow): RawShow {
  const bass = { id: 'bass', name: 'Bass', kind: 'strings', input: { port: 'Bass', channels: [1, 2, 3, 4] } }
  return quietHouse({
    players: [{ ...bass, ...more }],
    songs: [tide([lead({ player: 'bass', lamps: LAMPS })])],
  })
}

test('what holding notes back costs, with what the converter takes by itself on a low E', () => {
  const [note, ...rest] = found(house({}))
  expect(rest).toEqual([])
  expect(note).toMatch(/^note, \$\.players\[0\]: every note of Bass begins 20 ms after the converter says it/)
  expect(note).toContain('one shorter than that is never heard (minNoteMs)')
  expect(note).toContain(
    'An end is up to 20 ms late, and the same key or its octave within 40 ms of an onset',
  )
  // 1 / 41.203 Hz is 24.27 ms; two periods are 48.54, and 20 more 68.54.
  expect(note).toContain('24.27 to 48.54 ms on a low E of 41.2 Hz: there a note may be 68.54 ms late in all')
  expect(note).not.toContain('bendSmoothMs')
})

test.each([
  [{ bendSmoothMs: 5 }, 'a bend is up to 5 ms late, 2.5 ms where it moves evenly (bendSmoothMs).'],
  [{ minNoteMs: 35 }, 'every note of Bass begins 35 ms after'],
  [{ minNoteMs: 35 }, 'An end is up to 5 ms late'],
  [{ minNoteMs: 0 }, 'an end is up to 40 ms late'],
  [{ minNoteMs: 60, octaveGuardMs: 60 }, 'An end is up to 2 ms late'],
])('%j: %s', (more, words) => {
  expect(found(house(more)).join(' ').toLowerCase()).toContain(words.toLowerCase())
})

test('nothing is said of what is set to cost nothing', () => {
  expect(found(house({ minNoteMs: 0, octaveGuardMs: 0 }))).toEqual([])
})
