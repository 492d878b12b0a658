import { z } from 'zod'
import { bendRange, channel, id, key, label, milliseconds, positive } from './field-values.ts'

const ALL_CHANNELS = Array.from({ length: 16 }, (_, index) => index + 1)

const input = z.strictObject({ port: label, channels: z.array(channel).min(1).max(16).default(ALL_CHANNELS) })

const keys = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('keys'),
  input,
  bendRange: bendRange.default(2),
})

const floor = z.int().min(0).max(127)
const maskMs = milliseconds(1000)
const gateMs = positive(60_000)
const velocity = z.int().min(1).max(127)

/** That its points rise is checked with all that goes over single fields. */
const curve = z.union([
  z.enum(['linear', 'soft', 'hard']),
  z
    .array(z.tuple([velocity, velocity]))
    .min(1)
    .max(16),
])

const pad = z.strictObject({
  key,
  name: label,
  floor: floor.optional(),
  maskMs: maskMs.optional(),
  gateMs: gateMs.optional(),
  curve: curve.optional(),
})

const pads = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('pads'),
  input,
  // Common practice, no source. A mask of 30 ms takes real flams out (tests/unit/players/pads-performances.test.ts).
  floor: floor.default(8),
  maskMs: maskMs.default(12),
  crosstalkMs: milliseconds(1000).default(5),
  gateMs: gateMs.default(120),
  curve: curve.default('linear'),
  pads: z.array(pad).max(128).default([]),
})

const strings = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('strings'),
  input,
  mode: z
    .enum(['string-per-channel', 'one-channel'])
    .optional()
    .describe('A channel a string, or all strings on one; left out: by how many channels are listened to'),
  minNoteMs: milliseconds(1000)
    .default(20)
    .describe('A note that does not last this long is a ghost; every note begins so much later'),
  octaveGuardMs: milliseconds(1000)
    .default(40)
    .describe('A leap of an octave, and the return from it, within this time is one and the same note'),
  bendSmoothMs: milliseconds(5)
    .default(0)
    .describe(
      'A bend is the mean of what was sent in this time: half of it late on average, all of it at worst',
    ),
  legato: z
    .boolean()
    .default(true)
    .describe('A note that begins before the last one on its string has ended is not struck anew'),
  bendRange: bendRange.default(12),
})

export const playerSchema = z.discriminatedUnion('kind', [keys, pads, strings])
