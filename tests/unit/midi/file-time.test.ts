import { describe, expect, test } from 'vitest'
import { microsAtTick, tickClock } from '../../../src/midi/file-time.ts'

const beats = (ticksPerBeat: number) => ({ kind: 'beats', ticksPerBeat }) as const

describe('ticks to microseconds', () => {
  test('120 beats a minute until a tempo comes', () => {
    expect(microsAtTick(tickClock(beats(480), []), 960)).toBe(1_000_000)
  })

  test('each tempo holds from its tick on; of two at one tick the later counts', () => {
    const clock = tickClock(beats(100), [
      { tick: 200, microsPerBeat: 250_000 },
      { tick: 100, microsPerBeat: 9 },
      { tick: 100, microsPerBeat: 1_000_000 },
    ])
    expect([0, 100, 150, 200, 400].map((tick) => microsAtTick(clock, tick))).toEqual([
      0, 500_000, 1_000_000, 1_500_000, 2_000_000,
    ])
  })

  test('thousands of tempo changes off the microsecond add up no error', () => {
    const tempos = Array.from({ length: 9999 }, (_, i) => ({ tick: i, microsPerBeat: 500_001 }))
    const many = tickClock(beats(7), tempos)
    expect(microsAtTick(many, 9999 * 7)).toBe(Math.round((9999 * 7 * 500_001) / 7))
    expect(microsAtTick(many, 10)).toBe(714_287)
  })

  test('exact where a plain product would leave the whole numbers', () => {
    const clock = tickClock(beats(32767), [{ tick: 0, microsPerBeat: 16_777_215 }])
    const tick = 2 ** 40 + 1
    const exact = (BigInt(tick) * 16_777_215n * 2n + 32_767n) / (2n * 32_767n)
    expect(microsAtTick(clock, tick)).toBe(Number(exact))
  })

  test.each([
    [24, 1_000_000],
    [25, 1_000_000],
    [30, 1_000_000],
    // Drop frame: 30000/1001 frames a second, so 29 * 80 ticks are 29 * 1001/30000 s.
    [29, 967_633],
  ])('%i frames a second: a second of frames', (framesPerSecond, micros) => {
    const clock = tickClock({ kind: 'frames', framesPerSecond, ticksPerFrame: 80 }, [
      { tick: 0, microsPerBeat: 1 },
    ])
    expect(microsAtTick(clock, framesPerSecond * 80)).toBe(micros)
  })

  test('drop frame: 30000 frames are 1001 seconds', () => {
    const clock = tickClock({ kind: 'frames', framesPerSecond: 29, ticksPerFrame: 4 }, [])
    expect(microsAtTick(clock, 30_000 * 4)).toBe(1_001_000_000)
  })

  test('stays a whole number however long', () => {
    const clock = tickClock(beats(1), [{ tick: 0, microsPerBeat: 16_777_215 }])
    expect(microsAtTick(clock, Number.MAX_SAFE_INTEGER)).toBe(Number.MAX_SAFE_INTEGER)
  })
})
