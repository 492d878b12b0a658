import { describe, expect, test } from 'vitest'
import type { HoldOut } from '../../../src/claims/hold.ts'
import { hold } from '../../../src/claims/hold.ts'
import type { Said } from '../../support/stage-run.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

const ms = 1000

function run(...delays: number[]) {
  return new StageRun(hold, { delays: delays.map((delay) => delay * ms) })
}

/** `20 +3` : at 20 ms lit by note 3; `20 -` dark; `~` a change without a new strike. */
function line(said: readonly Said<HoldOut>[], lamp = 0): string {
  return said
    .flatMap(({ at, out }) => out.wishes.map((wish) => ({ at, ...wish })))
    .filter((wish) => wish.lamp === lamp)
    .map(({ at, state }) => `${at / ms} ${state.on ? `${state.strike ? '+' : '~'}${state.note}` : '-'}`)
    .join(', ')
}

describe('gap', () => {
  test('a strike on a lit lamp: dark first, lit after the gap', () => {
    const held = run(0)
    held.at(0, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(100 * ms, wishes(lights(0, 2, {}, 30 * ms)))
    held.runOut()
    expect(line(held.said)).toBe('0 +1, 100 -, 130 +2')
  })

  test('a strike soon after dark waits for the rest of the gap only', () => {
    const held = run(0)
    held.at(0, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(100 * ms, wishes(darkens(0)))
    held.at(110 * ms, wishes(lights(0, 2, {}, 30 * ms)))
    held.at(300 * ms, wishes(darkens(0)))
    held.at(400 * ms, wishes(lights(0, 3, {}, 30 * ms)))
    held.runOut()
    expect(line(held.said)).toBe('0 +1, 100 -, 130 +2, 300 -, 400 +3')
  })

  test('a first strike on a lamp that was never lit waits for nothing', () => {
    const held = run(0)
    held.at(5 * ms, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(5 * ms, wishes(darkens(0)))
    expect(line(held.said)).toBe('5 +1, 5 -')
  })

  test('dark cancels what waits', () => {
    const held = run(0)
    held.at(0, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(100 * ms, wishes(lights(0, 2, {}, 30 * ms)))
    held.at(110 * ms, wishes(darkens(0)))
    held.runOut()
    expect(line(held.said)).toBe('0 +1, 100 -, 110 -')
  })

  test('a roll faster than the gap lights: the later strike takes the place of the one that waits', () => {
    const held = run(0)
    for (let n = 0; n < 8; n++) held.at(n * 20 * ms, wishes(lights(0, n + 1, {}, 30 * ms)))
    held.runOut()
    expect(line(held.said)).toBe('0 +1, 20 -, 50 +3, 60 -, 90 +5, 100 -, 130 +7, 140 -, 170 +8')
  })

  test('a strike of a part with another gap takes the place of the one that waits, sooner or later', () => {
    for (const [gap, due] of [
      [0, 110],
      [20, 120],
      [50, 150],
    ] as const) {
      const held = run(0)
      held.at(0, wishes(lights(0, 1)))
      held.at(100 * ms, wishes(lights(0, 2, {}, 30 * ms)))
      held.at(110 * ms, wishes(lights(0, 3, {}, gap * ms)))
      held.runOut()
      expect(line(held.said)).toBe(`0 +1, 100 -, ${due} +3`)
    }
  })

  test('a bend of a voice that waits joins it, and it is still a strike', () => {
    const held = run(0)
    held.at(0, wishes(lights(0, 1)))
    held.at(100 * ms, wishes(lights(0, 2, {}, 30 * ms)))
    held.at(110 * ms, wishes(lights(0, 2, { strike: false, hz: 450 })))
    expect(held.runOut()).toMatchObject([
      { at: 130 * ms, out: { wishes: [{ state: { strike: true, hz: 450 } }] } },
    ])
  })

  test('a legato change of a lit lamp waits for no gap', () => {
    const held = run(0)
    held.at(0, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(100 * ms, wishes(lights(0, 2, { strike: false }, 30 * ms)))
    expect(line(held.said)).toBe('0 +1, 100 ~2')
  })
})

describe('delay', () => {
  test('every change of the lamp is later by the same time, in the same order; other lamps are not', () => {
    const held = run(15, 0)
    held.at(0, wishes(lights(0, 1), lights(1, 2)))
    held.at(10 * ms, wishes(lights(0, 1, { strike: false }), darkens(1)))
    held.at(12 * ms, wishes(darkens(0)))
    held.runOut()
    expect(line(held.said, 0)).toBe('15 +1, 25 ~1, 27 -')
    expect(line(held.said, 1)).toBe('0 +2, 10 -')
  })

  test('of two changes at one time the later counts; a strike among them stays one', () => {
    const held = run(15)
    held.at(0, wishes(lights(0, 1)))
    held.at(0, wishes(lights(0, 1, { strike: false, hz: 450 })))
    expect(held.runOut()).toMatchObject([
      { at: 15 * ms, out: { wishes: [{ state: { strike: true, hz: 450 } }] } },
    ])
    expect(held.said.length).toBe(1)
  })

  test('with a gap: dark after the delay, lit after delay and gap', () => {
    const held = run(15)
    held.at(0, wishes(lights(0, 1, {}, 30 * ms)))
    held.at(100 * ms, wishes(lights(0, 2, {}, 30 * ms)))
    held.runOut()
    expect(line(held.said)).toBe('15 +1, 115 -, 145 +2')
  })

  test('clear drops what waits', () => {
    const held = run(15)
    held.at(0, wishes(lights(0, 1)))
    expect(held.at(5 * ms, { kind: 'clear' })).toEqual([])
    expect(held.runOut()).toEqual([])
  })
})
