import { KERNEL_HALF, KERNEL_PHASES, KERNEL_TAPS, stepKernel } from './step-kernel.ts'

/** A stretch of signal under construction: band-limited steps go in at any time, finished samples come out. */
export interface StepTrack {
  /** Steps at times before this (samples) may still be added; later ones only after `take`. */
  readonly end: number
  readonly headroom: number
  /** Adds a step of `height` at `time` (samples, end - chunk <= time < end). */
  add(time: number, height: number): void
  /**
   * The differences between one sample and the next of the finished stretch; valid until the next call. The first
   * sample of all is number -KERNEL_HALF: a step at 0 begins before it happens, as a symmetrical kernel does.
   */
  take(): Float64Array
}

export function createStepTrack(chunk: number): StepTrack {
  const { rows, headroom } = stepKernel()
  const buffer = new Float64Array(chunk + 2 * KERNEL_HALF)
  const done = new Float64Array(chunk)
  let base = -KERNEL_HALF
  let end = base + chunk + KERNEL_HALF - 1

  return {
    get end() {
      return end
    },
    headroom,
    add(time, height) {
      const whole = Math.floor(time)
      const position = (time - whole) * KERNEL_PHASES
      const phase = Math.floor(position)
      const right = (position - phase) * height
      const left = height - right
      let row = phase * KERNEL_TAPS
      let out = whole - KERNEL_HALF + 1 - base
      for (const stop = out + KERNEL_TAPS; out < stop; out++, row++) {
        buffer[out]! += left * rows[row]! + right * rows[row + KERNEL_TAPS]!
      }
    },
    take() {
      done.set(buffer.subarray(0, chunk))
      buffer.copyWithin(0, chunk)
      buffer.fill(0, 2 * KERNEL_HALF)
      base += chunk
      end += chunk
      return done
    },
  }
}
