import { z } from 'zod'
import {
  LONGEST_SCALE_NAME,
  MOST_DEGREE,
  MOST_MAP_KEYS,
  MOST_PITCH_CENTS,
  MOST_PITCHES,
  MOST_REFERENCE_HZ,
} from '../domain/scale-limits.ts'
import { SCALE_PITCH_TEXT } from '../domain/scale-pitch.ts'
import { id, key, positive, reference } from './field-values.ts'

const atKey = { refNote: key, refHz: positive(MOST_REFERENCE_HZ) }

const equal = z.strictObject({
  id,
  kind: z.literal('equal'),
  steps: z.int().min(1).max(1000),
  periodCents: positive(12_000),
  ...atKey,
})

const pitch = z.union([
  z.number().min(-MOST_PITCH_CENTS).max(MOST_PITCH_CENTS),
  z.string().regex(SCALE_PITCH_TEXT, 'a ratio such as "3/2", or a number of cents'),
])

const map = z.strictObject({
  first: key.default(0),
  last: key.default(127),
  middle: key.default(60),
  formalOctave: z.int().min(0).max(MOST_DEGREE),
  degrees: z.array(z.int().min(-MOST_DEGREE).max(MOST_DEGREE).nullable()).max(MOST_MAP_KEYS).default([]),
})

const scale = z.strictObject({
  id,
  kind: z.literal('scale'),
  name: z.string().max(LONGEST_SCALE_NAME).default(''),
  pitches: z.array(pitch).max(MOST_PITCHES),
  map: map.optional(),
  ...atKey,
})

const received = z.strictObject({
  id,
  kind: z.literal('received'),
  player: reference,
  program: z.int().min(0).max(127).default(0),
  bank: z.int().min(0).max(127).optional(),
  base: reference,
})

export const tuningSchema = z.discriminatedUnion('kind', [equal, scale, received])

/** What a show without tunings is in: twelve equal steps an octave, 440 Hz at key 69 (ISO 16). */
export const EVEN = {
  id: 'even',
  kind: 'equal',
  steps: 12,
  periodCents: 1200,
  refNote: 69,
  refHz: 440,
} as const
