import type { NumberKind } from '../rig/ranges.ts'
import { MOST_STEPS } from './row-edits.ts'

/** Numbers of patterns, rows and steps, as the show's schema has them. */
export const STEP_NUMBERS = {
  duty: { label: 'Duty', min: 0, max: 1, step: 0.01 },
  gate: { label: 'Sounds, in steps', above: 0, max: 64, step: 0.05 },
  chance: { label: 'Chance', min: 0, max: 1, step: 0.05 },
  swing: { label: 'Swing', min: 0, max: 0.75, step: 0.05 },
  length: { label: 'Steps', min: 1, max: MOST_STEPS, whole: true },
  gateMs: { label: 'A hit sounds', unit: 'ms', above: 0, max: 60_000, step: 5 },
  accentTimes: { label: 'Accent, times', min: 1, max: 8, step: 0.1 },
} as const satisfies Readonly<Record<string, NumberKind>>
