import { z } from 'zod'
import type { StruckStep } from '../domain/pattern.ts'
import { duty, id, key, label, noteValue, positive, reference } from './field-values.ts'

/** In steps; longer ones sound on over steps that are rests. */
const gate = positive(64)
/** Part of a step; more would leave the next one no room. */
const swing = z.number().min(0).max(0.75)

/** A rest is 0, `null` or "rest" and becomes 0; a bare number from 1 is a key. */
const step = z.union([
  z.literal([0, null, 'rest']).transform((): 0 => 0),
  z
    .int()
    .min(1)
    .max(127)
    .transform((note): StruckStep => ({ note })),
  z.strictObject({
    note: key,
    duty: duty.optional(),
    gate: gate.optional(),
    accent: z.boolean().optional(),
    chance: z.number().min(0).max(1).optional(),
  }),
])

const row = z.strictObject({
  /** Left out: the lamp's. */
  id: id.optional(),
  lamp: reference,
  steps: z.array(step).min(1).max(256),
  /** Left out: the pattern's. */
  swing: swing.optional(),
  muted: z.boolean().default(false),
})

const pad = z.discriminatedUnion('do', [
  z.strictObject({
    key,
    do: z.enum(['advance', 'back', 'restart', 'stop', 'next-pattern', 'accent']),
  }),
  z.strictObject({ key, do: z.literal('mute-row'), row: reference }),
  z.strictObject({
    key,
    do: z.literal('note'),
    lamp: reference,
    note: key,
    duty: duty.optional(),
  }),
])

export const patternSchema = z.strictObject({
  id,
  /** Left out: the id. */
  name: label.optional(),
  advance: z.enum(['hit', 'clock', 'both']).default('hit'),
  division: noteValue.default('1/16'),
  swing: swing.default(0),
  gate: gate.default(0.5),
  gateMs: positive(60_000).optional(),
  accentTimes: z.number().min(1).max(8).default(1.5),
  rows: z.array(row).max(128),
  pads: z.array(pad).max(128).default([]),
})
