import { describe, expect, test } from 'vitest'
import type { ClockMessage } from '../../../src/time/clock-message.ts'
import { beatAt, timeOfBeat } from '../../../src/time/beat-clock.ts'
import type { SongTimeIn } from '../../../src/time/song-time.ts'
import { songTime } from '../../../src/time/song-time.ts'
import { clockTimes } from '../../support/midi-clock.ts'
import { StageRun } from '../../support/stage-run.ts'

function run(follows: boolean, tempo = 120) {
  const stage = new StageRun(songTime, { follows, tempo, at: 0 }, true)
  return {
    stage,
    tell: (event: SongTimeIn, at: number) => stage.at(at, event),
    hear: (kind: Exclude<ClockMessage['kind'], 'position'>, at: number) =>
      stage.at(at, { kind: 'heard', message: { kind } }),
    beats: (at: number): number => beatAt(stage.state.clock, at),
  }
}

/** The beat that the last clock stood for, in clocks. */
function counted({ stage }: ReturnType<typeof run>): number {
  return Math.round(stage.state.clock.beats * 24 * 1e6) / 1e6
}

describe('a song’s own tempo', () => {
  test('four decimals are kept, and beats are where they are said to be: 97.0625', () => {
    const song = run(false, 97.0625)
    expect(song.stage.state.tempo).toBe(97.0625)
    song.tell({ kind: 'begin', tempo: 97.0625 }, 1_000_000)
    // 60 s / 97.0625 = 618,158.4 microseconds.
    expect(timeOfBeat(song.stage.state.clock, 1)).toBe(1_618_158)
    expect(song.tell({ kind: 'tempo', tempo: 97.06254 }, 2_000_000)).toMatchObject([{ tempo: 97.0625 }])
    expect(song.tell({ kind: 'tempo', tempo: 97.0626 }, 2_000_000)).toMatchObject([{ tempo: 97.0626 }])
  })

  test('a change of tempo keeps the beat, and bounds are 20 and 400', () => {
    const song = run(false, 120)
    song.tell({ kind: 'tempo', tempo: 60 }, 1_250_000)
    expect(song.beats(1_250_000)).toBeCloseTo(2.5, 9)
    expect(song.beats(2_250_000)).toBeCloseTo(3.5, 9)
    expect(song.tell({ kind: 'tempo', tempo: 1 }, 3_000_000)).toMatchObject([{ tempo: 20 }])
    expect(song.tell({ kind: 'tempo', tempo: 5_000 }, 3_000_000)).toMatchObject([{ tempo: 400 }])
  })

  test('taps set it, and the beat goes on from where it was', () => {
    const song = run(false, 120)
    for (const at of [1_000_000, 1_600_000, 2_200_000]) song.tell({ kind: 'tap' }, at)
    expect(song.stage.state.tempo).toBe(100)
    // Two beats to the first tap and 1.2 to the second; then 100 a minute.
    expect(song.beats(2_200_000)).toBeCloseTo(2 + 1.2 + 1, 9)
  })

  test('it stands still, goes on from there, and starts from beat 0; a tempo set meanwhile counts from then on', () => {
    const song = run(false, 120)
    expect(song.tell({ kind: 'run', do: 'stop' }, 750_000)).toMatchObject([
      { isRunning: false, clock: { beats: 1.5, tempo: 0 } },
    ])
    expect(song.beats(9_000_000)).toBe(1.5)
    expect(timeOfBeat(song.stage.state.clock, 2)).toBe(Infinity)
    expect(song.tell({ kind: 'run', do: 'stop' }, 1_000_000)).toEqual([])
    song.tell({ kind: 'tempo', tempo: 60 }, 2_000_000)
    expect(song.beats(3_000_000)).toBe(1.5)
    song.tell({ kind: 'run', do: 'go-on' }, 4_000_000)
    expect(song.beats(5_000_000)).toBeCloseTo(2.5, 9)
    expect(song.tell({ kind: 'run', do: 'go-on' }, 5_000_000)).toEqual([])
    expect(song.tell({ kind: 'run', do: 'start' }, 6_000_000)).toMatchObject([
      { hasJumped: true, clock: { beats: 0, tempo: 60 } },
    ])
  })
})

describe('a clock that is followed', () => {
  test('Start, and the next clock is the downbeat; each clock after it is a 24th of a beat', () => {
    const song = run(true)
    expect(song.stage.state).toMatchObject({ isQuiet: true, clock: { tempo: 0 } })
    expect(song.hear('start', 1_000)).toMatchObject([{ hasJumped: true, isRunning: true }])
    const times = clockTimes({ bpm: 120, count: 97, from: 2_000 })
    times.forEach((at, clock) => {
      song.hear('clock', at)
      expect(song.stage.state.clock.beats).toBe(clock / 24)
    })
    expect(song.stage.state.isQuiet).toBe(false)
    expect(song.stage.state.tempo).toBeCloseTo(120, 2)
  })

  test.each([
    { what: '10 ms of jitter', times: clockTimes({ bpm: 120, count: 2_400, jitter: 10_000 }) },
    { what: 'bursts', times: clockTimes({ bpm: 120, count: 2_400, polled: 25_000 }) },
    { what: 'a ramp', times: clockTimes({ bpm: (clock) => 60 + clock / 20, count: 2_400, jitter: 2_000 }) },
    {
      what: 'clocks missing',
      times: clockTimes({ bpm: 120, count: 2_400, jitter: 2_000 }).filter((_, clock) => clock % 17 !== 3),
    },
    {
      what: 'clocks doubled',
      times: clockTimes({ bpm: 120, count: 2_400 }).flatMap((at, clock) =>
        clock % 9 === 0 ? [at, at] : [at],
      ),
    },
  ])(
    'beats never come to a clock before it does, and its count is theirs whatever the times: $what',
    ({ times }) => {
      const song = run(true)
      song.hear('start', 0)
      times.forEach((at, clock) => {
        // Just before it: beats are short of it, however long it keeps us waiting.
        const isApart = clock > 0 && at > (times[clock - 1] ?? 0)
        expect(!isApart || timeOfBeat(song.stage.state.clock, clock / 24) === Infinity).toBe(true)
        expect(!isApart || song.beats(at) <= clock / 24).toBe(true)
        song.hear('clock', at)
        expect(counted(song)).toBe(clock)
        expect(timeOfBeat(song.stage.state.clock, clock / 24)).toBe(at)
        expect(Number.isFinite(song.stage.state.tempo)).toBe(true)
      })
    },
  )

  test('clocks that come before any Start count: it was joined while it ran', () => {
    const song = run(true)
    for (const at of clockTimes({ bpm: 120, count: 25, from: 500_000 })) song.hear('clock', at)
    expect(counted(song)).toBe(24)
  })

  test('stopped, clocks do not move the beats; Continue goes on with the next clock, Start begins anew', () => {
    const song = run(true)
    song.hear('start', 0)
    for (const at of clockTimes({ bpm: 120, count: 31, from: 1 })) song.hear('clock', at)
    song.hear('stop', 640_000)
    for (const at of clockTimes({ bpm: 120, count: 20, from: 646_000 })) song.hear('clock', at)
    expect(song.stage.state).toMatchObject({ isRunning: false, isQuiet: false, clock: { tempo: 0 } })
    // It stands before the clock that comes next, number 31.
    expect(song.beats(1_050_000)).toBeCloseTo(31 / 24, 9)
    song.hear('continue', 1_055_000)
    song.hear('clock', 1_060_000)
    expect(counted(song)).toBe(31)
    song.hear('start', 1_070_000)
    song.hear('clock', 1_080_000)
    expect(counted(song)).toBe(0)
  })

  test('a song position is where it goes on, and counts only while stopped', () => {
    const song = run(true)
    song.hear('start', 0)
    song.hear('clock', 10)
    const position = (clocks: number, at: number) =>
      song.tell({ kind: 'heard', message: { kind: 'position', clocks } }, at)
    expect(position(96, 20)).toEqual([])
    song.hear('stop', 30)
    expect(position(96, 40)).toMatchObject([{ hasJumped: true }])
    song.hear('continue', 50)
    song.hear('clock', 60)
    expect(counted(song)).toBe(96)
  })

  test.each([
    // Half a second, or six spans of 125 ms at 20.
    { bpm: 120, after: 500_000 },
    { bpm: 20, after: 750_000 },
  ])(
    'one that stops coming at $bpm is noticed after $after µs, stands there, and goes on counting',
    ({ bpm, after }) => {
      const song = run(true, bpm)
      const times = clockTimes({ bpm, count: 60 })
      for (const at of times) song.hear('clock', at)
      const last = times.at(-1) ?? 0
      expect(song.stage.wakeUpTo(last + after - 2_000)).toEqual([])
      expect(song.stage.wakeUpTo(last + after + 2_000)).toMatchObject([
        { out: { isQuiet: true, isRunning: true, clock: { tempo: 0 } } },
      ])
      expect(song.stage.runOut()).toEqual([])
      expect(song.beats(last + 9_000_000)).toBeCloseTo(60 / 24, 9)
      expect(song.hear('clock', last + 9_000_000)).toMatchObject([{ isQuiet: false }])
      expect(counted(song)).toBe(60)
      expect(song.stage.state.tempo).toBeCloseTo(bpm, 1)
    },
  )

  test('its port gone, it is quiet at once', () => {
    const song = run(true)
    for (const at of clockTimes({ bpm: 120, count: 30 })) song.hear('clock', at)
    expect(song.tell({ kind: 'gone' }, 610_000)).toMatchObject([{ isQuiet: true, clock: { tempo: 0 } }])
    expect(song.tell({ kind: 'gone' }, 620_000)).toEqual([])
  })

  test('its beats are nobody else’s to move: a song that begins, a tempo, a tap and a stop leave them', () => {
    const song = run(true)
    for (const at of clockTimes({ bpm: 120, count: 60 })) song.hear('clock', at)
    const { clock, tempo } = song.stage.state
    const events: SongTimeIn[] = [
      { kind: 'begin', tempo: 70 },
      { kind: 'tempo', tempo: 70 },
      { kind: 'tap' },
      { kind: 'tap' },
      { kind: 'run', do: 'stop' },
    ]
    events.forEach((event, place) => song.tell(event, 1_240_000 + place))
    expect(song.stage.state).toMatchObject({ clock, tempo, isRunning: true })
  })
})
