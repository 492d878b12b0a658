import { z } from 'zod'
import { bendRange, channel, id, label, milliseconds, positive } from './field-values.ts'

const ALL_CHANNELS = Array.from({ length: 16 }, (_, index) => index + 1)

const input = z.strictObject({ port: label, channels: z.array(channel).min(1).max(16).default(ALL_CHANNELS) })

const keys = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('keys'),
  input,
  bendRange: bendRange.default(2),
})

const pads = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('pads'),
  input,
  floor: z.int().min(0).max(127).default(8),
  maskMs: milliseconds(1000).default(12),
  crosstalkMs: milliseconds(1000).default(5),
  gateMs: positive(60_000).default(120),
})

const strings = z.strictObject({
  id,
  name: label.optional(),
  kind: z.literal('strings'),
  input,
  minNoteMs: milliseconds(1000).default(20),
  octaveGuardMs: milliseconds(1000).default(40),
  bendRange: bendRange.default(12),
})

export const playerSchema = z.discriminatedUnion('kind', [keys, pads, strings])
