import { describe, expect, test } from 'vitest'
import type { Micros } from '../../../src/domain/units.ts'
import { clockMessages } from '../../../src/midi/clock-messages.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { CLOCK, clockTimes, CONTINUE, songPosition, START, STOP } from '../../support/midi-clock.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const PADS = { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] }, gateMs: 100 }
const KEYS = { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } }
const GRID = {
  id: 'grid',
  player: 'pads',
  lamps: ['fern', 'moss'],
  strategy: { kind: 'steps', starts: 'song' },
}
/** Rows of five and of four steps: they come back to their first steps together every twenty (common practice, no source). */
const FIVE_FOUR = {
  id: 'five-four',
  advance: 'clock',
  division: '1/16',
  rows: [
    { lamp: 'fern', steps: [60, 62, 64, 65, 67] },
    { lamp: 'moss', steps: [48, 0, 50, 0] },
  ],
}

function song(more: RawShow = {}): RawShow {
  return { id: 'tide', title: 'Tide', tempo: 97.0625, parts: [GRID], patterns: [FIVE_FOUR], ...more }
}

function following(songs: RawShow[] = [song()], more: RawShow = {}): GraphRun {
  const show = glasshouse({ players: [PADS, KEYS], songs, clock: { follow: 'Potting shed' }, ...more })
  return new GraphRun(validShow(show))
}

function hear(run: GraphRun, bytes: readonly number[], at: Micros): void {
  for (const message of clockMessages(bytes)) run.graph.tellTime({ kind: 'heard', message }, at)
  run.graph.advance(at)
}

/** Start, then clocks at those times, of which the first is the downbeat. */
function play(run: GraphRun, times: readonly Micros[]): void {
  hear(run, [START], (times[0] ?? 0) - 1)
  for (const at of times) hear(run, [CLOCK], at)
}

/** Where the rows were after each move: the first comes with the downbeat. */
function places(run: GraphRun): number[][] {
  return run.of('step').flatMap(({ rows }) => (rows[0] === -1 ? [] : [[...rows]]))
}

const fiveFour = (steps: number): number[][] =>
  Array.from({ length: steps }, (_, step) => [step % 5, step % 4])

describe('five against four over 10,000 steps', () => {
  test('by a clock that is followed, jittered, sent in bursts and swelling from 60 to 240', () => {
    const run = following()
    const bpm = (clock: number): number => 60 + (180 * clock) / 60_000
    play(run, clockTimes({ bpm, count: 6 * 9_999 + 1, from: 1_000, jitter: 6_000, polled: 5_000 }))
    expect(places(run)).toEqual(fiveFour(10_000))
  })

  test('by the song’s own clock, every step at its very microsecond', () => {
    const run = following([song()], { clock: {} })
    // 60 s / (4 x 97.0625) a step; a tempo in sixteenths makes it a fraction of whole numbers.
    const due = (step: number): number =>
      Number((2n * BigInt(step) * 60_000_000n * 16n + 4n * 1553n) / (2n * 4n * 1553n))
    run.graph.advance(due(9_999))
    const moved = run.of('step').filter(({ rows }) => rows[0] !== -1)
    expect(moved.map(({ rows }) => [...rows])).toEqual(fiveFour(10_000))
    moved.forEach(({ at }, step) => expect(at).toBe(step === 0 ? moved[0]?.at : due(step)))
  })

  test('by the song’s own clock through tempos that change between steps and on them', () => {
    const run = following([song()], { clock: {} })
    for (let change = 1; run.of('step').length < 10_000; change++) {
      const tempo = 60 + ((change * 37) % 300) + (change % 16) / 16
      run.graph.tellTime({ kind: 'tempo', tempo }, change * 1_234_567)
    }
    expect(places(run).slice(0, 10_000)).toEqual(fiveFour(10_000))
  })

  test('by hits', () => {
    const run = following([song({ patterns: [{ ...FIVE_FOUR, advance: 'hit', gateMs: 20 }] })], { clock: {} })
    for (let hit = 0; hit < 10_000; hit++) run.graph.play('pads', [0x99, 38, 100], 1_000 + hit * 150_000)
    run.runOut(1_000_000)
    expect(places(run)).toEqual(fiveFour(10_000))
  })
})

test.each([
  { what: 'jitter', times: clockTimes({ bpm: 120, count: 400, from: 1_000, jitter: 10_000 }) },
  { what: 'bursts at one time', times: clockTimes({ bpm: 120, count: 400, from: 25_000, polled: 25_000 }) },
  {
    what: 'every ninth missing',
    times: clockTimes({ bpm: 120, count: 400, from: 1_000 }).filter((_, clock) => clock % 9 !== 4),
  },
  {
    what: 'every seventh doubled',
    times: clockTimes({ bpm: 120, count: 400, from: 1_000 }).flatMap((at, clock) =>
      clock % 7 === 0 ? [at, at + 3] : [at],
    ),
  },
  {
    what: 'a tempo that doubles at once',
    times: clockTimes({ bpm: (clock) => (clock < 200 ? 60 : 240), count: 400, from: 1_000 }),
  },
])('a step comes with every sixth clock, at its very time: $what', ({ times }) => {
  const run = following()
  play(run, times)
  const moved = run.of('step').filter(({ rows }) => rows[0] !== -1)
  expect(moved.map(({ at }) => at)).toEqual(times.filter((_, clock) => clock % 6 === 0))
  expect(Number.isFinite(run.graph.time.tempo)).toBe(true)
})

test('a swung step comes between its clocks, and never before the clock it follows', () => {
  const swung = { ...FIVE_FOUR, swing: 0.5, rows: [{ lamp: 'fern', steps: [60, 62] }] }
  const run = following([song({ patterns: [swung] })])
  const times = clockTimes({ bpm: 120, count: 120, from: 1_000 })
  play(run, times)
  const struck = run
    .of('frame')
    .flatMap(({ at, changes }) => (changes.some(({ state }) => state.on) ? [at] : []))
  // Half a sixteenth is three clocks: swing of a half falls on a clock exactly.
  const expected = times.filter((_, clock) => clock % 12 === 0 || clock % 12 === 9)
  expect(struck).toEqual(expected)
})

describe('beats that stand still', () => {
  const long = { ...FIVE_FOUR, gate: 4, swing: 0.7 }
  /** Stopped after the clock before a step, with a swung strike to come. */
  function stopped(how: (run: GraphRun, at: Micros) => void): { run: GraphRun; at: Micros } {
    const run = following([song({ patterns: [long] })])
    const times = clockTimes({ bpm: 120, count: 20, from: 1_000 })
    play(run, times)
    const at = (times.at(-1) ?? 0) + 500
    expect(run.litLamps()).not.toEqual([])
    how(run, at)
    return { run, at }
  }

  test.each<[string, (run: GraphRun, at: Micros) => void]>([
    ['by Stop', (run, at) => hear(run, [STOP], at)],
    ['as its clock is quiet', (run, at) => run.graph.advance(at + 600_000)],
    ['as its port is gone', (run, at) => run.graph.tellTime({ kind: 'gone' }, at)],
  ])('leave no lamp of a pattern lit, and what was queued does not come: %s', (_, how) => {
    const { run, at } = stopped(how)
    run.graph.advance(at + 700_000)
    expect(run.litLamps()).toEqual([])
    const before = run.events.length
    run.runOut()
    expect(run.events.slice(before).filter(({ kind }) => kind === 'frame')).toEqual([])
  })

  test('Continue goes on with the step that the count says', () => {
    const { run, at } = stopped((one, time) => hear(one, [STOP], time))
    for (const time of clockTimes({ bpm: 120, count: 8, from: at + 1 })) hear(run, [CLOCK], time)
    hear(run, [CONTINUE], at + 400_000)
    const times = clockTimes({ bpm: 120, count: 20, from: at + 401_000 })
    for (const time of times) hear(run, [CLOCK], time)
    // Clocks 20 to 39: steps on 24, 30 and 36, after those on 0, 6, 12 and 18.
    expect(places(run)).toEqual(fiveFour(7))
    expect(run.of('step').at(-3)?.at).toBe(times[4])
  })

  test('a song position is where the rows go on, Start is their beginning', () => {
    const { run, at } = stopped((one, time) => hear(one, [STOP], time))
    hear(run, songPosition(13), at + 1_000)
    hear(run, [CONTINUE], at + 2_000)
    hear(run, [CLOCK], at + 3_000)
    // Step number 13, counted from 0.
    expect(places(run).at(-1)).toEqual([13 % 5, 13 % 4])
    hear(run, [STOP], at + 4_000)
    hear(run, [START], at + 5_000)
    hear(run, [CLOCK], at + 6_000)
    expect(places(run).at(-1)).toEqual([0, 0])
  })

  test('own beats stop, go on from there and start from 0 in the same way', () => {
    const run = following([song({ tempo: 120, patterns: [long] })], { clock: {} })
    // Steps every 125 ms.
    run.graph.tellTime({ kind: 'run', do: 'stop' }, 300_000)
    expect(run.litLamps()).toEqual([])
    run.graph.advance(900_000)
    run.graph.tellTime({ kind: 'run', do: 'go-on' }, 1_000_000)
    run.graph.advance(1_080_000)
    const moved = (): number[] => run.of('step').flatMap(({ at, rows }) => (rows[0] === -1 ? [] : [at]))
    expect(moved().slice(1)).toEqual([125_000, 250_000, 1_075_000])
    run.graph.tellTime({ kind: 'run', do: 'start' }, 1_100_000)
    run.graph.advance(1_225_000)
    expect(places(run).slice(-2)).toEqual([
      [0, 0],
      [1, 1],
    ])
  })
})

describe('strategies that go by beats', () => {
  function keyed(strategy: RawShow): GraphRun {
    const parts = [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss', 'reed'], strategy }]
    return following([{ id: 'tide', title: 'Tide', parts }])
  }

  test('travel moves with the clocks, stands with them, and is lit as long as its key is down', () => {
    const run = keyed({ kind: 'travel', move: { every: '1/16' } })
    const times = clockTimes({ bpm: 120, count: 100, from: 1_000, jitter: 8_000 })
    hear(run, [START], 0)
    for (const at of times.slice(0, 13)) hear(run, [CLOCK], at)
    run.graph.play('keys', [0x90, 60, 100], (times[12] ?? 0) + 1)
    for (const at of times.slice(13, 28)) hear(run, [CLOCK], at)
    const lit = run
      .of('frame')
      .flatMap(({ at, changes }) => changes.flatMap(({ lamp, state }) => (state.on ? [`${at} ${lamp}`] : [])))
    expect(lit).toEqual([`${(times[12] ?? 0) + 1} fern`, `${times[18]} moss`, `${times[24]} reed`])
    hear(run, [STOP], (times[27] ?? 0) + 1)
    run.runOut(5_000_000)
    expect(run.litLamps()).toEqual(['reed'])
    run.graph.play('keys', [0x80, 60, 64], run.graph.now + 1)
    run.runOut(1_000)
    expect(run.litLamps()).toEqual([])
  })

  test('canon answers by counted clocks; as beats stand still its answers end, and those queued do not come', () => {
    const run = keyed({ kind: 'canon', delay: '1/8' })
    const times = clockTimes({ bpm: 120, count: 100, from: 1_000, jitter: 8_000 })
    hear(run, [START], 0)
    for (const at of times.slice(0, 5)) hear(run, [CLOCK], at)
    run.graph.play('keys', [0x90, 60, 100], (times[4] ?? 0) + 1)
    for (const at of times.slice(5, 20)) hear(run, [CLOCK], at)
    const lit = run
      .of('frame')
      .flatMap(({ at, changes }) => changes.flatMap(({ lamp, state }) => (state.on ? [`${at} ${lamp}`] : [])))
    // An eighth is twelve clocks.
    expect(lit).toEqual([`${(times[4] ?? 0) + 1} fern`, `${times[16]} moss`])
    hear(run, [STOP], (times[19] ?? 0) + 1)
    expect(run.litLamps()).toEqual(['fern'])
    run.graph.play('keys', [0x80, 60, 64], run.graph.now + 1)
    run.runOut(5_000_000)
    expect(run.litLamps()).toEqual([])
    hear(run, [CONTINUE], run.graph.now + 1)
    for (const at of clockTimes({ bpm: 120, count: 48, from: run.graph.now + 1_000 })) hear(run, [CLOCK], at)
    expect(run.litLamps()).toEqual([])
  })
})

describe('a song that is asked for', () => {
  const two = (enterAt: string): RawShow[] => [song(), song({ id: 'dew', title: 'Dew', enterAt })]

  test.each([
    // Asked for within beat 5 (from 0): the next beat is 6, the next bar of four 8.
    { enterAt: 'beat', clock: 6 * 24 },
    { enterAt: 'bar', clock: 8 * 24 },
  ])(
    'begins with the $enterAt of the clock that is followed, counted from its Start',
    ({ enterAt, clock }) => {
      const run = following(two(enterAt))
      const times = clockTimes({ bpm: 120, count: 240, from: 1_000, jitter: 5_000 })
      hear(run, [START], 0)
      times.forEach((at, place) => {
        hear(run, [CLOCK], at)
        if (place === 5 * 24 + 7) run.graph.ask({ to: 'song', song: 'dew' }, at + 1)
      })
      expect(run.of('song').map(({ at, place }) => [place.song, at])).toEqual([['dew', times[clock]]])
      // Its own beats begin there.
      const first = run.of('step').find(({ at, rows }) => at >= (times[clock] ?? 0) && rows[0] === 0)
      expect(first?.at).toBe(times[clock])
    },
  )

  test('goes by the new count where the clock starts anew meanwhile', () => {
    const run = following(two('bar'))
    hear(run, [START], 0)
    const times = clockTimes({ bpm: 120, count: 24 * 9, from: 1_000 })
    for (const at of times) hear(run, [CLOCK], at)
    run.graph.ask({ to: 'song', song: 'dew' }, (times.at(-1) ?? 0) + 1)
    hear(run, [STOP, START], (times.at(-1) ?? 0) + 2)
    expect(run.of('song')).toEqual([])
    hear(run, [CLOCK], (times.at(-1) ?? 0) + 3)
    expect(run.of('song').map(({ at }) => at)).toEqual([(times.at(-1) ?? 0) + 3])
  })

  test('waits while beats stand still, for a bar that is not over', () => {
    const run = following(two('bar'))
    hear(run, [START], 0)
    const times = clockTimes({ bpm: 120, count: 24 * 4 + 1, from: 1_000 })
    for (const at of times) hear(run, [CLOCK], at)
    const end = times.at(-1) ?? 0
    hear(run, [STOP], end + 1)
    run.graph.ask({ to: 'song', song: 'dew' }, end + 1)
    run.runOut()
    expect(run.of('song')).toEqual([])
    hear(run, [CONTINUE], run.graph.now + 1)
    const rest = clockTimes({ bpm: 120, count: 24 * 4, from: run.graph.now + 1 })
    for (const at of rest) hear(run, [CLOCK], at)
    // Clock 97 is the first of the rest; bar 2 is at clock 192.
    expect(run.of('song').map(({ at }) => at)).toEqual([rest[192 - 97]])
  })
})

test('tempo 97.0625 is kept to its last decimal, through a song’s beginning and taps of another', () => {
  const run = following([song(), song({ id: 'dew', title: 'Dew', tempo: 137.4321 })], { clock: {} })
  expect(run.graph.time.tempo).toBe(97.0625)
  run.graph.tellTime({ kind: 'tap' }, 1_000_000)
  run.graph.tellTime({ kind: 'tap' }, 1_500_000)
  expect(run.graph.time.tempo).toBe(120)
  run.graph.changeSong('dew', 2_000_000)
  expect(run.graph.time).toMatchObject({
    tempo: 137.4321,
    isRunning: true,
    clock: { beats: 0, at: 2_000_000 },
  })
})
