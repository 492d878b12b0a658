import { expect, test } from 'vitest'
import type { MtsOutIn, MtsOutState } from '../../../src/outputs/mts-out.ts'
import { mtsOut } from '../../../src/outputs/mts-out.ts'
import { deepFreeze } from '../../support/deep-freeze.ts'

/** Messages of 40 bytes on the cable, told apart by their first number. */
const piece = (name: number): number[] => [name, ...Array<number>(37).fill(0)]
const tell = (...names: number[]): MtsOutIn => ({ kind: 'tell', messages: names.map(piece), why: null })

class Out {
  state: MtsOutState = mtsOut.start()
  wake: number | undefined

  /** "1" for a message, "no: why" for what is not told. */
  step(event: MtsOutIn, now: number): string[] {
    const step = mtsOut.step(deepFreeze(this.state), event, now)
    this.state = JSON.parse(JSON.stringify(step.state))
    this.wake = step.wake
    return step.out.map((one) =>
      one.kind === 'untold' ? `no: ${one.why}` : String(one.message.type === 'sysex' && one.message.data[0]),
    )
  }

  /** All that is still to come, and when. */
  rest(): [number, string][] {
    const all: [number, string][] = []
    while (this.wake !== undefined) {
      const at = this.wake
      all.push(...this.step({ kind: 'wake' }, at).map((one): [number, string] => [at, one]))
    }
    return all
  }
}

test('piece by piece: 40 bytes of 0.32 ms (31,250 baud), and the cable rests as long', () => {
  const out = new Out()
  expect(out.step(tell(1, 2, 3), 0)).toEqual([])
  expect(out.step({ kind: 'open' }, 1000)).toEqual(['1'])
  expect(out.rest()).toEqual([
    [26_600, '2'],
    [52_200, '3'],
  ])
})

test('what is the same is not told again, place by place', () => {
  const out = new Out()
  out.step({ kind: 'open' }, 0)
  out.step(tell(1, 2, 3), 0)
  out.rest()
  expect(out.step(tell(1, 2, 3), 1e6)).toEqual([])
  expect(out.wake).toBeUndefined()
  expect(out.step(tell(1, 5, 3), 2e6)).toEqual(['5'])
  expect(out.wake).toBeUndefined()
})

test('of tunings that follow each other quickly only the last is told whole', () => {
  const out = new Out()
  out.step({ kind: 'open' }, 0)
  expect(out.step(tell(1, 2), 0)).toEqual(['1'])
  expect(out.step(tell(3, 4), 5_000)).toEqual([])
  expect(out.step(tell(5, 6), 6_000)).toEqual([])
  expect(out.rest()).toEqual([
    [25_600, '5'],
    [51_200, '6'],
  ])
})

test('opened again, all of it is told again', () => {
  const out = new Out()
  out.step({ kind: 'open' }, 0)
  out.step(tell(1, 2), 0)
  out.rest()
  expect(out.step({ kind: 'open' }, 1e6)).toEqual(['1'])
  expect(out.rest().map(([, one]) => one)).toEqual(['2'])
})

test('closed, nothing goes out until it is open', () => {
  const out = new Out()
  out.step({ kind: 'open' }, 0)
  out.step(tell(1, 2), 0)
  out.step({ kind: 'close' }, 10)
  expect(out.wake).toBeUndefined()
  expect(out.step(tell(3, 4), 1e6)).toEqual([])
})

test('one that cannot be told: said once, nothing sent, and what the listener knows is still known', () => {
  const out = new Out()
  out.step({ kind: 'open' }, 0)
  out.step(tell(1), 0)
  const not: MtsOutIn = { kind: 'tell', messages: [], why: 'odd' }
  expect(out.step(not, 1e6)).toEqual(['no: odd'])
  expect(out.step(not, 2e6)).toEqual([])
  expect(out.step({ kind: 'open' }, 3e6)).toEqual([])
  expect(out.step(tell(1), 4e6)).toEqual(['1'])
  out.step(not, 5e6)
  expect(out.step(tell(1), 6e6)).toEqual([])
})
