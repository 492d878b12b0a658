import { describe, expect, test } from 'vitest'
import { ClockRun } from '../../support/clock-run.ts'

const HOUR = 3_600_000_000
const found = { kind: 'found', port: 0 } as const

/** MIDI 1.0 Detailed Specification: 24 clocks a quarter note. Clock n of a tempo in ten-thousandths is n x 60,000,000 x 10,000 / (24 x tempo) microseconds from its start. */
function isWithinOne(at: number, clock: number, tenThousandths: bigint): boolean {
  const times = 24n * tenThousandths
  const off = BigInt(at) * times - BigInt(clock) * 600_000_000_000n
  return (off < 0n ? -off : off) <= times
}

describe('an hour', () => {
  test.each([
    [97.0625, 970_625n],
    [137.1234, 1_371_234n],
  ])('of clocks at %d beats a minute is exact to one clock, each to a microsecond', (tempo, exact) => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo, bar: 4 }, 0)
    run.until(HOUR)
    const due = Number((BigInt(HOUR) * 24n * exact) / 600_000_000_000n) + 1
    expect(run.clocks).toHaveLength(due)
    // Start to its downbeat is a millisecond; all others are in their place.
    expect(run.clocks[0]).toBe(1_000)
    const off = run.clocks.flatMap((at, clock) =>
      clock === 0 || isWithinOne(at, clock, exact) ? [] : [clock],
    )
    expect(off).toEqual([])
  })

  test('with another tempo every seven seconds and some is as exact', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo: 97.0625, bar: 4 }, 0)
    const changes: { at: bigint; exact: bigint }[] = [{ at: 0n, exact: 970_625n }]
    for (let at = 7_000_001; at < HOUR; at += 7_000_001) {
      const exact = changes.length % 2 === 0 ? 970_625n : 1_371_234n
      changes.push({ at: BigInt(at), exact })
      run.tell({ kind: 'tempo', tempo: Number(exact) / 10_000 }, at)
    }
    run.until(HOUR)
    // The position at a time, in clocks times 6 x 10^11, summed over the stretches of one tempo each.
    const positionAt = (time: bigint): bigint =>
      changes.reduce((sum, { at, exact }, place) => {
        const end = changes[place + 1]?.at ?? BigInt(HOUR)
        const until = time < end ? time : end
        return until > at ? sum + (until - at) * 24n * exact : sum
      }, 0n)
    const whole = 600_000_000_000n
    expect(run.clocks).toHaveLength(Number(positionAt(BigInt(HOUR)) / whole) + 1)
    const sample = run.clocks.flatMap((at, clock) => (clock % 997 === 1 ? [{ at: BigInt(at), clock }] : []))
    for (const { at, clock } of sample) {
      const ideal = BigInt(clock) * whole
      expect(positionAt(at - 1n) <= ideal && ideal <= positionAt(at + 1n), `clock ${clock}`).toBe(true)
    }
  })
})

describe('words beside the clocks', () => {
  test('a song that begins is Start and, a millisecond later, its downbeat; another one after it Stop, Start', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo: 120, bar: 4 }, 1_000)
    run.tell({ kind: 'start', tempo: 60, bar: 4 }, 50_000)
    run.until(100_000)
    expect(run.sent.map(({ at, bytes }) => [at, bytes[0]?.toString(16)])).toEqual([
      [1_000, 'fa'],
      [2_000, 'f8'],
      [21_833, 'f8'],
      [42_667, 'f8'],
      [50_000, 'fc'],
      [50_000, 'fa'],
      [51_000, 'f8'],
      [91_667, 'f8'],
    ])
  })

  test('who comes later is told where the next sixteenth is, least byte first, before the clock of that place', () => {
    const run = new ClockRun()
    run.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
    // 1000 sixteenths at 120 are 125 seconds; 1001 are 0x3e9: 0x69 and 7 in sevens of bits.
    run.tell(found, 125_010_000)
    run.until(125_126_000)
    expect(run.words).toEqual([
      { at: 125_104_167, bytes: [0xf2, 0x69, 0x07] },
      { at: 125_104_167, bytes: [0xfb] },
    ])
    expect(run.clocks.filter((at) => at > 125_104_167)).toEqual([125_125_000])
  })

  test('standing still, clocks go on and the place does not; going on, it does from the next sixteenth', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
    run.tell({ kind: 'stop' }, 1_000_000)
    run.until(3_000_000)
    expect(run.words.slice(1)).toEqual([{ at: 1_000_000, bytes: [0xfc] }])
    expect(run.clocks.filter((at) => at > 2_000_000 && at <= 3_000_000)).toHaveLength(48)
    run.tell({ kind: 'go-on' }, 3_005_000)
    run.until(3_200_000)
    // It stood at beat 2, which is sixteenth 8: that clock would be at once, so the next sixteenth it is.
    expect(run.words.slice(2)).toEqual([
      { at: 3_005_000 + 104_167, bytes: [0xf2, 9, 0] },
      { at: 3_005_000 + 104_167, bytes: [0xfb] },
    ])
    // The clock that it stood at is sent again, for the tempo.
    expect(run.clocks).toContain(3_005_000)
    expect(run.clocks).toContain(3_005_000 + 125_000)
  })

  test('beats told from outside: the same place is a tempo, tempo 0 a stop, beat 0 a start, any other a jump', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'beats', beats: 0, tempo: 120 }, 0)
    run.tell({ kind: 'beats', beats: 2, tempo: 60 }, 1_000_000)
    run.tell({ kind: 'beats', beats: 3, tempo: 0 }, 2_000_000)
    run.tell({ kind: 'beats', beats: 3.1, tempo: 60 }, 3_000_000)
    run.tell({ kind: 'beats', beats: 40, tempo: 60 }, 5_000_000)
    run.until(5_300_000)
    expect(run.words.map(({ bytes }) => bytes)).toEqual([
      [0xfa],
      [0xfc],
      [0xf2, 13, 0],
      [0xfb],
      [0xfc],
      [0xf2, 33, 1],
      [0xfb],
    ])
  })

  test('a place that fourteen bits cannot say is told as whole bars before it', () => {
    const run = new ClockRun()
    run.tell({ kind: 'start', tempo: 1_000, bar: 3 }, 0)
    // Bars of three are twelve sixteenths: 1365 of them are 16380, the most that fit in 16384.
    run.tell(found, (16_380 + 24) * 15_000 - 10_000)
    run.until((16_380 + 25) * 15_000)
    expect(run.words[0]?.bytes).toEqual([0xf2, 24, 0])
  })

  test('clocks a tenth of a second late are made up for; later ones are not sent, and who follows is led on', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
    run.until(1_000_000)
    const before = run.clocks.length
    // Nobody woke it: the next thing that happens is told 100 ms after a clock was due.
    const late = new ClockRun()
    late.tell(found, 0)
    late.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
    late.until(1_000_000)
    late.late({ kind: 'wake' }, 1_020_833 + 100_000)
    expect(late.clocks.length - before).toBe(5)
    late.late({ kind: 'wake' }, 9_010_000)
    expect(late.clocks.length - before).toBe(5)
    expect(late.words.at(-1)).toEqual({ at: 9_010_000, bytes: [0xfc] })
    late.until(9_130_000)
    expect(late.words.slice(-2).map(({ bytes }) => bytes)).toEqual([[0xf2, 73, 0], [0xfb]])
    expect(late.clocks).toContain(9_125_000)
  })

  test('a stop that nobody noticed sends no clock of that time, and the song stands where it was then', () => {
    const run = new ClockRun()
    run.tell(found, 0)
    run.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
    run.until(1_000_000)
    const before = run.clocks.length
    run.late({ kind: 'stop', since: 1_020_833 }, 4_000_000_000)
    expect(run.clocks).toHaveLength(before)
    run.tell({ kind: 'go-on' }, 4_000_000_000)
    run.until(4_000_130_000)
    expect(run.words.slice(1).map(({ bytes }) => bytes)).toEqual([[0xfc], [0xf2, 9, 0], [0xfb]])
  })
})
