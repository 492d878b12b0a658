import { z } from 'zod'

/** A flash is two opposing changes: six are the three flashes of WCAG 2.2, success criterion 2.3.1. */
const SIX = 6
/** Above hearing, whose end is put at 20 kHz (common practice, no source). */
const GLOW_HZ = 25_000

export const flashGuard = z.discriminatedUnion('action', [
  z.strictObject({ action: z.literal('warn') }),
  z.strictObject({ action: z.literal('fold') }),
  z.strictObject({
    action: z.literal('glow'),
    seconds: z.number().min(0.5).max(3600).default(4),
    /** At most what a frame can say. */
    hz: z.number().min(20_000).max(65_000).default(GLOW_HZ),
  }),
  z.strictObject({ action: z.literal('limit'), changes: z.int().min(2).max(120).default(SIX) }),
  /** The day it was turned off belongs to it: year-month-day. */
  z.strictObject({ action: z.literal('off'), since: z.iso.date() }),
])

export const guards = z.strictObject({
  flash: flashGuard.default({ action: 'warn' }),
  supply: z.strictObject({ action: z.enum(['refuse', 'steal', 'warn']).default('refuse') }).prefault({}),
})
