import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { Hz, Micros } from '../domain/units.ts'
import { checkLightChange } from './light-change.ts'
import type { LightChange } from './light-change.ts'
import { beginTrain, darken, darkTrain, lightTrain, passEdge } from '../guards/flash/pulse-train.ts'
import type { PulseTrain } from '../guards/flash/pulse-train.ts'
import { KERNEL_HALF } from './step-kernel.ts'
import { createStepTrack } from './step-track.ts'

/** Gets finished sound, -1..1. The block is used again after the call: copy what is to be kept. */
export type BlockSink = (block: Float32Array) => void

export interface Pickup {
  /** What 1 of light is in the sound. */
  readonly gain: number
  /** Takes a change; in order of time, not before the last `renderUntil`. RangeError otherwise or for bad numbers. */
  apply(change: LightChange): void
  /** Everything up to `at` is known: hands on what is finished, and forgets the changes up to then. */
  renderUntil(at: Micros, sink: BlockSink): void
  /** All dark where `renderUntil` got to; hands on the rest, `pickupFrames` in all. Ends the pickup's use. */
  finish(sink: BlockSink): void
}

/** Corner of the pickup's coupling, a first-order high-pass: 0.04 dB down at 20 Hz. */
export const PICKUP_CORNER_HZ: Hz = 2
const CHUNK = 4096

/** Samples written for a performance that ends at `endAt`: one second more, in which the coupling settles. */
export function pickupFrames(endAt: Micros, sampleRate: Hz): number {
  return Math.ceil((endAt * sampleRate) / MICROS_PER_SECOND) + sampleRate
}

/**
 * What a light pickup in front of all lamps hears: the sum of their pulse trains (1 while on, 0 while off), every
 * edge a band-limited step, AC-coupled, mono. Harmonic n of a steady lamp is 2/(n pi) sin(n pi duty) times `gain`
 * (any Fourier-series table), flat to 0.41 of the sample rate. A lamp lit from dark starts with its on part; a
 * change while lit keeps the phase, a new strike too, since the box is only told a rate; the flash of a pulse begins as
 * it is told; dark is at once. From half the
 * sample rate on, a lamp is steady light and has no pitch. `gain` is fixed so that all lamps at once cannot clip,
 * whatever their edges do: 1 / (lamps * (area of the kernel's positive lobes, 1.559, + 0.01 for the coupling)).
 * Sound is exact to the sample: no delay. Memory does not grow with time.
 */
export function createPickup(config: { readonly lamps: number; readonly sampleRate: Hz }): Pickup {
  const { lamps, sampleRate } = config
  if (!Number.isInteger(lamps) || lamps < 1)
    throw new RangeError(`a pickup needs 1 lamp or more, got ${lamps}`)
  if (!Number.isInteger(sampleRate) || sampleRate < 8000) {
    throw new RangeError(`the sample rate must be a whole number of Hz from 8000, got ${sampleRate}`)
  }
  const track = createStepTrack(CHUNK)
  const trains: readonly PulseTrain[] = Array.from({ length: lamps }, darkTrain)
  const leak = Math.exp((-2 * Math.PI * PICKUP_CORNER_HZ) / sampleRate)
  const gain = 1 / (lamps * (track.headroom + 0.01))
  const scale = (gain * (1 + leak)) / 2
  const samplesPerMicro = sampleRate / MICROS_PER_SECOND
  const block = new Float32Array(CHUNK)
  let pending: LightChange[] = []
  let latest: Micros = 0
  let known: Micros = 0
  let written = -KERNEL_HALF
  let sum = 0

  function advance(train: PulseTrain, until: number): void {
    while (train.next < until) {
      const time = train.next
      passEdge(train)
      track.add(time, train.level === 1 ? 1 : -1)
    }
  }

  function perform(change: LightChange): void {
    const train = trains[change.index]!
    const at = (change.at * sampleRate) / MICROS_PER_SECOND
    advance(train, at)
    const before = train.level
    if ('dark' in change) darken(train)
    else {
      const light = change.begins === true ? beginTrain : lightTrain
      light(train, at, sampleRate / change.hz, change.duty, 2)
    }
    if (train.level !== before) track.add(at, train.level - before)
  }

  function flush(sink: BlockSink, last: number): void {
    for (const train of trains) advance(train, track.end)
    const steps = track.take()
    for (let i = 0; i < CHUNK; i++) {
      sum = leak * sum + steps[i]!
      block[i] = sum * scale
    }
    // Numbers too small to be heard would be slow to add for as long as it is dark.
    if (Math.abs(sum) < 1e-12) sum = 0
    const from = Math.max(0, -written)
    const to = Math.min(CHUNK, last - written)
    written += CHUNK
    if (to > from) sink(block.subarray(from, to))
  }

  return {
    gain,
    apply(change) {
      checkLightChange(change, lamps)
      if (change.at < latest) {
        throw new RangeError(
          `lamp ${change.index}: change at ${change.at} us comes after one at ${latest} us`,
        )
      }
      latest = change.at
      pending.push(change)
    },
    renderUntil(at, sink) {
      if (!(at >= known))
        throw new RangeError(`rendered until ${known} us already, cannot go back to ${at} us`)
      let next = 0
      for (;;) {
        const change = pending[next]
        const due = change !== undefined && change.at <= at ? change : undefined
        if (track.end <= (due?.at ?? at) * samplesPerMicro) flush(sink, Infinity)
        else if (due === undefined) break
        else {
          perform(due)
          next++
        }
      }
      if (next > 0) pending = pending.slice(next)
      known = at
      latest = Math.max(latest, at)
    },
    finish(sink) {
      if (pending.length > 0) {
        throw new RangeError(
          `a change at ${pending[0]!.at} us is not rendered; render until then before finishing`,
        )
      }
      for (let index = 0; index < lamps; index++) perform({ index, at: known, dark: true })
      const last = pickupFrames(known, sampleRate)
      while (written < last) flush(sink, last)
    },
  }
}
