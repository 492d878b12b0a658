import fc from 'fast-check'
import { expect, it } from 'vitest'
import { createPickup } from '../../src/offline/pickup.ts'
import type { LightChange } from '../../src/offline/light-change.ts'
import { checkProperty } from '../support/property.ts'

const LAMPS = 3
const change = fc.record({
  index: fc.integer({ min: 0, max: LAMPS - 1 }),
  wait: fc.integer({ min: 0, max: 3000 }),
  // From slow to far over half the sample rate; together with short waits, edges fall anywhere.
  hz: fc.option(
    fc.double({ min: 0, max: 5, noNaN: true }).map((decades) => 10 ** decades),
    { nil: undefined },
  ),
  duty: fc.double({ min: 0, max: 1, noNaN: true }),
})

function timed(
  steps: readonly { index: number; wait: number; hz: number | undefined; duty: number }[],
): LightChange[] {
  let at = 0
  return steps.map(({ index, wait, hz, duty }) => {
    at += wait
    return hz === undefined ? { index, at, dark: true } : { index, at, hz, duty }
  })
}

function render(changes: readonly LightChange[], endAt: number, stops: readonly number[]): number[] {
  const pickup = createPickup({ lamps: LAMPS, sampleRate: 8000 })
  const samples: number[] = []
  const sink = (block: Float32Array): void => void samples.push(...block)
  let next = 0
  for (const stop of [...stops.map((part) => Math.round(part * endAt)).sort((a, b) => a - b), endAt]) {
    // Changes at a stop come half before, half after it is rendered.
    while (next < changes.length && changes[next]!.at < stop + (next % 2)) pickup.apply(changes[next++]!)
    pickup.renderUntil(stop, sink)
  }
  while (next < changes.length) pickup.apply(changes[next++]!)
  pickup.renderUntil(endAt, sink)
  pickup.finish(sink)
  return samples
}

it('never clips, and sounds the same however it is cut', () => {
  checkProperty(
    'pickup within -1..1, any cuts',
    fc.property(
      fc.array(change, { maxLength: 40 }),
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 5 }),
      (steps, stops) => {
        const changes = timed(steps)
        const endAt = (changes.at(-1)?.at ?? 0) + 5000
        const whole = render(changes, endAt, [])
        expect(whole.length).toBe(Math.ceil((endAt * 8000) / 1e6) + 8000)
        expect(whole.every((sample) => Math.abs(sample) <= 1)).toBe(true)
        expect(Math.abs(whole.at(-1)!)).toBeLessThan(0.5 / 32767)
        expect(render(changes, endAt, stops)).toEqual(whole)
      },
    ),
  )
})
