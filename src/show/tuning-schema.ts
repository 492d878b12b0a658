import { z } from 'zod'
import { id, key, positive } from './field-values.ts'

export const tuningSchema = z.strictObject({
  id,
  kind: z.literal('equal'),
  steps: z.int().min(1).max(1000),
  periodCents: positive(12_000),
  refNote: key,
  refHz: positive(100_000),
})

/** What a show without tunings is in: twelve equal steps an octave, 440 Hz at key 69 (ISO 16). */
export const EVEN = {
  id: 'even',
  kind: 'equal',
  steps: 12,
  periodCents: 1200,
  refNote: 69,
  refHz: 440,
} as const
