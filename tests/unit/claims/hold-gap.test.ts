import { expect, test } from 'vitest'
import { hold, type HoldIn } from '../../../src/claims/hold.ts'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import { DARK } from '../../../src/domain/lamp-state.ts'
import { WAKE } from '../../../src/domain/stage.ts'
import type { Micros } from '../../../src/domain/units.ts'
import { lit } from '../../support/lamp-changes.ts'

const GAP = 10_000
const DELAY = 3_000

function strike(hz: number): LampState {
  return lit(0, hz).state
}

/** What one lamp does, as `time Hz`, 0 for dark; each wish at its time, wakes where they are due. */
function lamp(wishes: readonly (readonly [Micros, LampState])[], delay: Micros = 0): string[] {
  const out: string[] = []
  const due = wishes.map(([at, state]) => ({ at, event: wishOf(state) as HoldIn }))
  let state = hold.start({ delays: [delay] })
  for (let next = due.shift(); next; next = due.shift()) {
    const { at } = next
    const step = hold.step(state, next.event, at)
    state = step.state
    for (const { wishes: held } of step.out) {
      for (const one of held) out.push(`${at} ${one.state.on ? one.state.hz : 0}`)
    }
    // A wake stands behind the wishes of its own time and in place of the one asked for before.
    const others = due.filter(({ event }) => event.kind !== 'wake')
    const wake = step.wake === undefined ? [] : [{ at: step.wake, event: WAKE }]
    due.splice(0, due.length, ...[...others, ...wake].sort((a, b) => a.at - b.at))
  }
  return out
}

function wishOf(state: LampState): HoldIn {
  return { kind: 'wishes', wishes: [{ lamp: 0, state, gap: GAP }] }
}

test('a dark lamp is struck at once', () => {
  expect(lamp([[0, strike(100)]])).toEqual(['0 100'])
})

test('a lit lamp is dark for the gap, then struck', () => {
  expect(
    lamp([
      [0, strike(100)],
      [50_000, strike(200)],
    ]),
  ).toEqual(['0 100', '50000 0', '60000 200'])
})

test('of two strikes of one moment on a dark lamp the last comes at once: nothing had shone before', () => {
  expect(
    lamp([
      [0, strike(100)],
      [0, strike(200)],
    ]),
  ).toEqual(['0 100', '0 200'])
})

test('of two strikes of one moment on a lit lamp the last comes after one gap', () => {
  expect(
    lamp([
      [0, strike(100)],
      [50_000, strike(200)],
      [50_000, strike(300)],
    ]),
  ).toEqual(['0 100', '50000 0', '60000 300'])
})

test('a strike in the middle of a gap does not make it longer', () => {
  expect(
    lamp([
      [0, strike(100)],
      [50_000, strike(200)],
      [55_000, strike(300)],
    ]),
  ).toEqual(['0 100', '50000 0', '60000 300'])
})

test('a lamp let go and struck again at the same time is dark for the gap', () => {
  expect(
    lamp([
      [0, strike(100)],
      [50_000, DARK],
      [50_000, strike(200)],
    ]),
  ).toEqual(['0 100', '50000 0', '60000 200'])
})

test('let go a while ago, only what is left of the gap', () => {
  expect(
    lamp([
      [0, strike(100)],
      [50_000, DARK],
      [56_000, strike(200)],
      [56_000, DARK],
      [57_000, strike(300)],
    ]),
  ).toEqual(['0 100', '50000 0', '56000 0', '60000 300'])
})

test('a lamp that is held back has its gap held back with it', () => {
  expect(
    lamp(
      [
        [0, strike(100)],
        [1_000, strike(200)],
      ],
      DELAY,
    ),
  ).toEqual(['3000 100', '4000 0', '14000 200'])
})
