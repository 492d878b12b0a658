import { describe, expect, test } from 'vitest'
import type { StringsPlayer } from '../../../src/domain/player.ts'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { Gesture, PlayedNote } from '../../support/bass-physics.ts'
import { GESTURES, ON_ONE_CHANNEL, OPEN, playBassPhysics } from '../../support/bass-physics.ts'
import type { HeardNote } from '../../support/heard-voices.ts'
import { heardNotes, pitchAt } from '../../support/heard-voices.ts'
import { playStrings } from '../../support/players.ts'

const ms = 1_000
const MIN_NOTE_MS = 20
const GUARD_MS = 40
/** No bend may be later than this. */
const LATEST_BEND = 5 * ms
/** 14 bits over 24 semitones are 0.15 cents a step. */
const STEP_CENTS = 0.2
const SEEDS = [1, 2, 3, 4, 5, 6]

function heard(performance: ReturnType<typeof playBassPhysics>, more: Partial<StringsPlayer> = {}) {
  const run = playStrings({ minNoteMs: MIN_NOTE_MS, octaveGuardMs: GUARD_MS, ...more })
  for (const { at, message } of performance.sent) run.at(at, message)
  run.runOut()
  const count = (kind: string): number => run.said.filter(({ out }) => out.kind === kind).length
  const ons = performance.sent.filter(({ message }) => message.type === 'note-on').length
  return { notes: heardNotes(run.said), count, ons }
}

/** Note by note, string by string. */
function paired(played: readonly PlayedNote[], notes: readonly HeardNote[]): [PlayedNote, HeardNote][] {
  return OPEN.flatMap((_, string): [PlayedNote, HeardNote][] => {
    const mine = played.filter((one) => one.string === string)
    const told = notes.filter(({ channel }) => channel === string + 1)
    expect(told.length).toBe(mine.length)
    return mine.map((one, place) => [one, told[place] as HeardNote])
  })
}

/** When it is to be told: minNote after it was first said, or with its right octave, where that came in the burst in which the time was over. */
function dueAt({ saidAt, isSlide, pitch, wrongUntil }: PlayedNote, minNote: number): number {
  if (isSlide) return saidAt
  const due = saidAt + minNote
  const rightAt = pitch[0]?.at ?? saidAt
  return wrongUntil !== null && wrongUntil < due && due < rightAt ? rightAt : due
}

/** Where the pitch told is none that the converter sent within the last 5 ms, nor between those. */
function strayPitch({ pitch, endSaidAt }: PlayedNote, told: HeardNote): string | undefined {
  const from = Math.max(told.at, pitch[0]?.at ?? 0)
  for (let at = from; at < Math.min(told.endsAt, endSaidAt); at += 250) {
    const then = pitchAt(pitch, at - LATEST_BEND) ?? pitch[0]?.cents ?? NaN
    const since = pitch.filter((one) => one.at > at - LATEST_BEND && one.at <= at).map(({ cents }) => cents)
    const here = pitchAt(told.pitch, at) ?? NaN
    const low = Math.min(then, ...since) - STEP_CENTS
    const high = Math.max(then, ...since) + STEP_CENTS
    if (!(here >= low && here <= high)) return `at ${at}: ${here} is not within ${low} to ${high}`
  }
  return undefined
}

test('the strings are what they are: E1 41.203 Hz, a period of 24.27 ms', () => {
  expect(midiKeyToHz(OPEN[0] ?? 0)).toBeCloseTo(41.203, 3)
  const { notes } = playBassPhysics(1, 200)
  const lates = notes.filter(({ isLegato }) => !isLegato).map((note) => note.saidAt - note.playedAt)
  expect(Math.max(...lates)).toBeGreaterThan(40 * ms)
  expect(Math.max(...lates)).toBeLessThanOrEqual(49.6 * ms)
  expect(playBassPhysics(7, 50)).toEqual(playBassPhysics(7, 50))
  expect(playBassPhysics(7, 50)).not.toEqual(playBassPhysics(8, 50))
})

describe.each(GESTURES)('a channel a string: %s', (gesture) => {
  test.each([0, 3, 5])('bends over %i ms: notes, pitches and ends are those played', (bendSmoothMs) => {
    for (const seed of SEEDS) {
      const performance = playBassPhysics(seed, 12, { gestures: [gesture] })
      const { notes } = heard(performance, { bendSmoothMs })
      for (const [played, told] of paired(performance.notes, notes)) {
        expect(told.isLegato).toBe(played.isLegato)
        expect(strayPitch(played, told)).toBeUndefined()
        expect(told.endsAt).toBeGreaterThanOrEqual(played.endSaidAt)
      }
    }
  })
})

test.each(SEEDS)(
  'everything together, seed %i: notes and pitches are those played, and the books add up',
  (seed) => {
    const performance = playBassPhysics(seed, 150)
    const { notes, count, ons } = heard(performance, { bendSmoothMs: 4 })
    for (const [played, told] of paired(performance.notes, notes)) {
      expect(told.isLegato).toBe(played.isLegato)
      expect(strayPitch(played, told)).toBeUndefined()
    }
    expect(count('dropped')).toBe(performance.ghosts)
    expect(count('note-on') + count('joined') + count('dropped')).toBe(ons)
    expect(count('note-off')).toBe(count('note-on'))
  },
)

/** Shorter times let ghosts and flickers through; none at all does not wait for the bend that belongs to a key. */
const TAKEN: readonly (readonly [number, readonly Gesture[]])[] = [
  [20, GESTURES],
  [5, GESTURES.filter((gesture) => gesture !== 'ghost' && gesture !== 'flicker')],
  [0, ['pluck', 'octave-by-note', 'octave-by-bend', 'hammer', 'bend-slide', 'crossing']],
]

test('a note begins minNoteMs after it was first said, a slide that goes on at once, and says so', () => {
  let worst = 0
  const counts = { slides: 0, others: 0 }
  for (const [minNoteMs, gestures] of TAKEN) {
    for (const seed of SEEDS) {
      const performance = playBassPhysics(seed, 60, { gestures })
      for (const [played, told] of paired(performance.notes, heard(performance, { minNoteMs }).notes)) {
        const due = dueAt(played, minNoteMs * ms)
        counts[played.isSlide ? 'slides' : 'others']++
        expect(told.at).toBe(due)
        // The key of a slide may come a message before the bend that tells it is one.
        expect(told.heldBack - (due - played.saidAt)).toBeLessThanOrEqual(played.isSlide ? 960 : 0)
        expect(told.heldBack).toBeGreaterThanOrEqual(due - played.saidAt)
        worst = Math.max(worst, told.at - Math.max(played.saidAt, due - minNoteMs * ms))
      }
    }
  }
  expect(Math.min(counts.slides, counts.others)).toBeGreaterThan(100)
  expect(worst).toBeLessThanOrEqual(MIN_NOTE_MS * ms + 1)
})

test('an end that nothing follows is told within 2 ms, or when octaveGuardMs is over', () => {
  for (const seed of SEEDS) {
    const performance = playBassPhysics(seed, 60, {
      gestures: ['pluck', 'octave-by-note', 'crossing', 'flicker'],
    })
    for (const [played, told] of paired(performance.notes, heard(performance).notes)) {
      expect(told.endsAt - played.endSaidAt).toBe(2 * ms)
    }
  }
})

test('without legato the same notes are heard, each struck', () => {
  const performance = playBassPhysics(3, 100, { gestures: ['pluck', 'hammer', 'octave-by-note', 'ghost'] })
  const { notes, count } = heard(performance, { legato: false })
  for (const [played, told] of paired(performance.notes, notes)) {
    expect(told.isLegato).toBe(false)
    expect(strayPitch(played, told)).toBeUndefined()
  }
  expect(count('note-on')).toBe(performance.notes.length)
})

test.each(SEEDS)(
  'all strings on one channel, seed %i: as many notes, on their keys, minNoteMs later',
  (seed) => {
    const performance = playBassPhysics(seed, 120, { gestures: ON_ONE_CHANNEL, isOneChannel: true })
    const { notes, count, ons } = heard(performance, {
      mode: 'one-channel',
      input: { port: 'Bass', channels: [1] },
    })
    const played = performance.notes.toSorted((a, b) => a.saidAt - b.saidAt)
    expect(notes.map(({ at }) => at)).toEqual(played.map((one) => dueAt(one, MIN_NOTE_MS * ms)))
    expect(notes.map(({ pitch }) => pitch.at(-1)?.cents)).toEqual(
      played.map(({ pitch }) => pitch.at(-1)?.cents),
    )
    expect(count('dropped')).toBe(performance.ghosts)
    expect(count('note-on') + count('joined') + count('dropped')).toBe(ons)
  },
)

test('the checks above see it where conditioning is left out', () => {
  const performance = playBassPhysics(1, 60, { gestures: ['octave-by-note', 'ghost'] })
  const { notes } = heard(performance, { minNoteMs: 0, octaveGuardMs: 0, legato: false })
  expect(notes.length).toBeGreaterThan(performance.notes.length + performance.ghosts)
  const slid = playBassPhysics(1, 20, { gestures: ['bend-slide'] })
  const late = 6 * ms
  const strays = paired(slid.notes, heard(slid).notes).filter(([played, told]) =>
    strayPitch(played, { ...told, pitch: told.pitch.map((one) => ({ ...one, at: one.at + late })) }),
  )
  expect(strays.length).toBeGreaterThan(15)
})
