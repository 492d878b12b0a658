import { createPickup } from '../../src/offline/pickup.ts'
import type { LightChange } from '../../src/offline/light-change.ts'
import type { Micros } from '../../src/domain/units.ts'

/** The whole sound of some changes at 48 kHz, in units of light (the gain taken out), ending at `endAt` and a second. */
export function renderedLight(lamps: number, changes: readonly LightChange[], endAt: Micros): Float64Array {
  const pickup = createPickup({ lamps, sampleRate: 48000 })
  const samples: number[] = []
  const sink = (block: Float32Array): void => {
    for (const sample of block) samples.push(sample / pickup.gain)
  }
  for (const change of changes) pickup.apply(change)
  pickup.renderUntil(endAt, sink)
  pickup.finish(sink)
  return Float64Array.from(samples)
}
