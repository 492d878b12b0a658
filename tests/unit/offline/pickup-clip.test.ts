import { expect, it } from 'vitest'
import { createPickup } from '../../../src/offline/pickup.ts'
import type { LightChange } from '../../../src/offline/light-change.ts'
import { kaiserSinc } from '../../../src/offline/kaiser-sinc.ts'

it('takes the worst edges there can be without clipping, and not much lower', () => {
  // All lamps are lit whenever the kernel, seen back from one sample, is over 0: nothing adds up to more.
  const lamps = 4
  const pickup = createPickup({ lamps, sampleRate: 48000 })
  const changes: LightChange[] = []
  let on = false
  for (let at = 10_000; at <= 11_500; at++) {
    const want = kaiserSinc(((at - 10_750) * 48000) / 1e6, 32, 0.4554, 8.96) > 0
    if (want === on) continue
    on = want
    for (let index = 0; index < lamps; index++) {
      changes.push(on ? { index, at, hz: 100, duty: 1 } : { index, at, dark: true })
    }
  }
  let peak = 0
  const sink = (block: Float32Array): void => {
    for (const sample of block) peak = Math.max(peak, Math.abs(sample))
  }
  for (const change of changes) pickup.apply(change)
  pickup.renderUntil(50_000, sink)
  pickup.finish(sink)
  expect(peak).toBeLessThanOrEqual(1)
  expect(peak).toBeGreaterThan(0.9)
})
