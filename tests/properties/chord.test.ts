import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../src/domain/show.ts'
import type { TuningSpec } from '../../src/domain/tuning-spec.ts'
import { chord } from '../../src/offline/chord.ts'
import { arbitraryShow } from '../support/arbitrary-show.ts'
import { GraphRun } from '../support/graph-run.ts'
import { checkProperty } from '../support/property.ts'

const TUNINGS: readonly TuningSpec[] = [
  { id: 'thirds', kind: 'equal', steps: 19, periodCents: 1200, refNote: 60, refHz: 261.6 },
  {
    id: 'gaps',
    kind: 'scale',
    name: '',
    pitches: ['9/8', 315, '3/2', '2'],
    map: { first: 0, last: 100, middle: 60, formalOctave: 4, degrees: [0, 1, null, 2, 3] },
    refNote: 60,
    refHz: 264,
  },
]

/** Lamps of every kind: trims, ranges under an octave, a coarse timer, a coarse bend; songs and parts in odd tunings. */
function odd(show: Show): Show {
  const lamps = show.rig.lamps.map((lamp, place) => ({
    ...lamp,
    trimCents: (place % 3) * 3.5,
    highHz: place % 4 === 3 ? 1.5 * lamp.lowHz : lamp.highHz,
  }))
  const outputs = show.rig.outputs.map((output) =>
    output.kind === 'serial'
      ? { ...output, timer: { clockHz: 1e6, prescalers: [1, 8, 64], bits: 16 } }
      : // Whole steps to a semitone: a voice that goes on by a bend lands where a strike does.
        { ...output, bendRange: 2, bendBits: 9 },
  )
  const songs = show.songs.map((song) => ({
    ...song,
    tuning: 'thirds',
    parts: song.parts.map((part, place) => (place % 2 === 0 ? { ...part, tuning: 'gaps' } : part)),
  }))
  return { ...show, rig: { ...show.rig, lamps, outputs }, tunings: [...show.tunings, ...TUNINGS], songs }
}

/** To ten places, never -0. */
const figure = (value: number | undefined) => Number(value?.toFixed(10)) + 0

test('a chord is what its lamps do when it is played: rates, intervals and beats', () => {
  let intervals = 0
  let beats = 0
  let unmapped = 0
  checkProperty(
    'chords against the graph',
    fc.property(
      arbitraryShow({ held: false, clock: false }).map(odd),
      fc.uniqueArray(fc.integer({ min: 30, max: 100 }), { minLength: 2, maxLength: 4 }),
      (show, keys) => {
        const [song] = show.songs
        const run = new GraphRun(show)
        const channel: Record<string, number> = { keys: 0, pads: 9, bass: 0 }
        let at = run.graph.now + 1
        for (const { id } of show.players)
          for (const key of keys) run.graph.play(id, Uint8Array.of(0x90 | (channel[id] ?? 0), key, 100), at++)
        run.graph.advance(at + 25_000)
        const states = run.graph.lamps
        // What was told of each lamp and each two of them that sound, and what they do; rates to the last bit or two, since a voice that goes on by a bend keeps its key.
        const told: unknown[] = []
        const done: unknown[] = []
        for (const part of song?.parts ?? []) {
          const found = chord(show, song?.id ?? '', part.id, keys)
          unmapped += found?.refused.filter(({ why }) => why === 'unmapped').length ?? 0
          const lit = show.rig.lamps.flatMap(({ id }, index) => {
            const state = states[index]
            // What steps sound is written in their pattern, not played.
            if (!state?.on || state.part !== part.id || part.strategy.kind === 'steps') return []
            const tone = found?.tones.find(
              ({ key, lamps }) => key + part.transpose === state.key && lamps.includes(id),
            )
            told.push([id, tone?.hz, figure(tone?.realHz)])
            done.push([id, state.hz, figure(state.realHz)])
            return tone ? [{ tone, state }] : []
          })
          for (const [place, one] of lit.entries()) {
            for (const other of lit.slice(place + 1)) {
              const hears = (a: unknown, b: unknown): boolean =>
                (a === one.tone && b === other.tone) || (a === other.tone && b === one.tone)
              const interval = found?.intervals.find(({ lower, upper }) => hears(lower, upper))
              const beat = found?.beats.find((pair) => hears(pair.one, pair.other))
              const [low, high] = [one.state.realHz, other.state.realHz]
              if (interval) {
                intervals++
                told.push(['interval', figure(interval.madeCents)])
                const cents = 1200 * Math.log2(high / low)
                done.push(['interval', figure(interval.upper === other.tone ? cents : -cents)])
              } else {
                beats += Number(one.tone !== other.tone)
                // On lamps that come to the same there is nothing to tell.
                told.push(['beat', figure(one.tone === other.tone ? 0 : beat?.hz)])
                done.push(['beat', figure(Math.abs(high - low))])
              }
            }
          }
        }
        run.graph.dispose()
        expect(told).toEqual(done)
      },
    ),
    400,
  )
  expect(intervals).toBeGreaterThan(8)
  expect(beats).toBeGreaterThan(8)
  expect(unmapped).toBeGreaterThan(20)
})
