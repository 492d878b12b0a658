import { z } from 'zod'
import { channel, controller, key, reference } from './field-values.ts'

export const enterAt = z.enum(['now', 'beat', 'bar', 'release'])

const gesture = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('program'),
    program: z.int().min(0).max(127).optional(),
    channel: channel.optional(),
  }),
  z.strictObject({ kind: z.literal('controller'), controller, channel: channel.optional() }),
  z.strictObject({ kind: z.literal('note'), key, channel: channel.optional() }),
])

const act = z.union([
  z.enum(['next', 'previous', 'number', 'variant', 'dark', 'tap']),
  z.strictObject({ song: reference }),
  z.strictObject({ place: z.int().min(1).max(10_000) }),
  z.strictObject({ tuning: reference, retune: z.boolean().default(true) }),
])

export const switchingSchema = z.strictObject({
  enterAt: enterAt.default('now'),
  controls: z.array(z.strictObject({ player: reference, on: gesture, do: act })).default([]),
})
