import { kaiserSinc } from './kaiser-sinc.ts'

/** Half the kernel's length in samples. */
export const KERNEL_HALF = 32
/** An edge touches this many samples, from floor(t) - KERNEL_HALF + 1 on. */
export const KERNEL_TAPS = 2 * KERNEL_HALF + 1
/** Positions between two samples for which the table has a row; straight lines join the rows. */
export const KERNEL_PHASES = 512

// Kaiser's estimate for 90 dB with 64 taps is a slope of 0.089 cycles a sample. It ends at half the sample rate, so
// that everything that would fold is in the stop band: at 48 kHz flat to 19.7 kHz, 90 dB down from 24 kHz.
const BETA = 8.96
const CUTOFF = 0.5 - 0.0892 / 2

export interface StepKernel {
  /**
   * Row p (0..KERNEL_PHASES), tap j: what a unit step at p / KERNEL_PHASES past a sample adds to the difference
   * between sample j and the one before it. A running sum of the taps is the band-limited step itself.
   */
  readonly rows: Float64Array
  /** Largest output for any input within 0..1, however its edges fall: the area of the kernel's positive lobes. */
  readonly headroom: number
}

let made: StepKernel | undefined

/** Table of the band-limited unit step: the integral of a windowed sinc (Simpson's rule), from exactly 0 to exactly 1. */
export function stepKernel(): StepKernel {
  // The same for everybody and slow to make.
  made ??= makeStepKernel()
  return made
}

function makeStepKernel(): StepKernel {
  const cells = 2 * KERNEL_HALF * KERNEL_PHASES
  const step = new Float64Array(cells + 1)
  let headroom = 0
  for (let i = 0; i < cells; i++) {
    const left = i / KERNEL_PHASES - KERNEL_HALF
    const width = 1 / KERNEL_PHASES
    const area = ((at(left) + 4 * at(left + width / 2) + at(left + width)) * width) / 6
    headroom += Math.max(0, area)
    step[i + 1] = step[i]! + area
  }
  const total = step[cells]!
  const valueAt = (i: number): number => (i <= 0 ? 0 : i >= cells ? 1 : step[i]! / total)

  const rows = new Float64Array((KERNEL_PHASES + 1) * KERNEL_TAPS)
  for (let phase = 0; phase <= KERNEL_PHASES; phase++) {
    for (let tap = 0; tap < KERNEL_TAPS; tap++) {
      const i = (tap + 1) * KERNEL_PHASES - phase
      rows[phase * KERNEL_TAPS + tap] = valueAt(i) - valueAt(i - KERNEL_PHASES)
    }
  }
  return { rows, headroom: headroom / total }
}

function at(u: number): number {
  return kaiserSinc(u, KERNEL_HALF, CUTOFF, BETA)
}
