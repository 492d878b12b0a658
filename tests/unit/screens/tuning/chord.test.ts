import { describe, expect, test } from 'vitest'
import type { PitchRow } from '../../../../src/contract/from-host.ts'
import { agreements, chordNotes, chordPairs, readKeys } from '../../../../app/screens/tuning/chord.ts'
import { beatsWords, meetsWords, silentWords } from '../../../../app/screens/tuning/chord-words.ts'
import { midiKeyToHz, shiftByCents } from '../../../../src/domain/pitch.ts'

const NONE = new Map<number, string>()

/** A key as it is wanted, made so many cents off. */
function row(key: number, cents = 0, hz = midiKeyToHz(key)): PitchRow {
  return { key, asked: hz, octaves: 0, hz, realHz: shiftByCents(hz, cents), cents }
}

const KEYS = [60, 64, 67]
const LAMPS = ['fern', 'moss', 'reed'].map((lamp) => ({ lamp, rows: KEYS.map((key) => row(key)) }))

describe('keys of a chord', () => {
  test('are read by name or number, each once, rising', () => {
    expect(readKeys('G4, c4 64;C4')).toEqual([60, 64, 67])
    expect(readKeys('')).toEqual([])
    expect(readKeys('C4 H4')).toEqual({ fault: expect.stringContaining('found H4') })
    expect(readKeys('0 1 2 3 4 5 6 7 8')).toEqual({ fault: expect.stringContaining('8 at most') })
  })

  test('stand each on a lamp of its own, or on the one that was chosen', () => {
    const lampOf = (chosen: ReadonlyMap<number, string>) =>
      chordNotes(KEYS, LAMPS, chosen).map(({ lamp }) => lamp)
    expect(lampOf(NONE)).toEqual(['fern', 'moss', 'reed'])
    expect(lampOf(new Map([[60, 'reed']]))).toEqual(['reed', 'fern', 'moss'])
    expect(lampOf(new Map([[60, 'none of these']]))).toEqual(['fern', 'moss', 'reed'])
    // Fewer lamps than keys: one lamp stands for several.
    expect(chordNotes(KEYS, LAMPS.slice(0, 1), NONE).map(({ lamp }) => lamp)).toEqual([
      'fern',
      'fern',
      'fern',
    ])
  })

  test('that do not sound are told why', () => {
    const rows: PitchRow[] = [
      { key: 61, asked: null, octaves: null },
      { key: 62, asked: 30, octaves: null },
    ]
    const notes = chordNotes([60, 61, 62, 63], [{ lamp: 'fern', rows: [row(60), ...rows] }], NONE)
    expect(notes.map(silentWords)).toEqual([
      undefined,
      'C#4 (61) has no pitch in this tuning: it is not mapped.',
      'D4 (62) is refused by every lamp of the part.',
      'D#4 (63) is none of the part\u2019s keys.',
    ])
    expect(chordPairs(notes)).toEqual([])
  })
})

describe('intervals of a chord', () => {
  test('as wanted and as made, with the partials that beat', () => {
    const lamps = LAMPS.map(({ lamp }, at) => ({
      lamp,
      rows: KEYS.map((key) => row(key, [0, 1.5, -0.5][at])),
    }))
    const pairs = chordPairs(chordNotes(KEYS, lamps, NONE))
    expect(pairs.map(({ low, high }) => [low.key, high.key])).toEqual([
      [60, 64],
      [60, 67],
      [64, 67],
    ])
    const figures = pairs.map(({ wanted, made }) => [wanted, made])
    for (const [at, [wanted, made]] of [
      [400, 401.5],
      [700, 699.5],
      [300, 298],
    ].entries()) {
      expect(figures[at]?.[0]).toBeCloseTo(wanted ?? 0, 9)
      expect(figures[at]?.[1]).toBeCloseTo(made ?? 0, 9)
    }
  })

  test('beat as piano tuners have it for equal temperament', () => {
    const [third, fifth] = chordPairs(chordNotes(KEYS, LAMPS, NONE))
    if (!third || !fifth) throw new Error('no pairs')
    // C4-E4 10.38 and C4-G4 0.89 beats a second (from memory; any piano tuning handbook).
    expect(third.meets.map((one) => meetsWords(third, one))[0]).toBe('5th of C4 with 4th of E4: 10.4 Hz')
    expect(fifth.meets.map((one) => meetsWords(fifth, one))).toEqual(['3rd of C4 with 2nd of G4: 0.886 Hz'])
  })

  test('name the partials by the pitch where a lamp folds the upper key below the lower', () => {
    const folded = row(67, 0, midiKeyToHz(55))
    const [pair] = chordPairs(
      chordNotes(
        [60, 67],
        [
          { lamp: 'fern', rows: [row(60)] },
          { lamp: 'moss', rows: [folded] },
        ],
        NONE,
      ),
    )
    if (!pair) throw new Error('no pair')
    expect(pair.wanted).toBeCloseTo(-500, 9)
    // The fourth from G3 up to C4.
    expect(meetsWords(pair, pair.meets[0] ?? { low: 0, high: 0, off: 0, beats: 0 })).toMatch(
      /^4th of G4 with 3rd of C4:/,
    )
  })

  test('beats are told to three figures, none below what an evening would show', () => {
    expect([0, 0.00005, 0.00123, 10.3797, 250].map(beatsWords)).toEqual([
      'none',
      'none',
      '0.00123 Hz',
      '10.4 Hz',
      '250 Hz',
    ])
  })
})

test('lamps on one key: how far they are apart as made and as wanted; those an octave off sound another note', () => {
  const lamps = [
    { lamp: 'fern', rows: [row(69, 0, 440)] },
    { lamp: 'moss', rows: [row(69, 0.5, 442)] },
    { lamp: 'palm', rows: [row(69, 0, 220)] },
    { lamp: 'ivy', rows: [{ key: 69, asked: 440, octaves: null }] },
  ]
  const [found, ...more] = agreements([60, 69], lamps)
  expect(more).toEqual([])
  expect(found).toMatchObject({ key: 69, lowest: { lamp: 'fern', hz: 440 }, highest: { lamp: 'moss' } })
  expect(found?.wantedBeats).toBe(2)
  expect(found?.beats).toBeCloseTo(shiftByCents(442, 0.5) - 440, 9)
  expect(agreements([69], lamps.slice(0, 1))).toEqual([])
})
