import { z } from 'zod'
import { RATIO_TEXT } from '../domain/ratio.ts'
import { controller, milliseconds, positive } from './field-values.ts'

const when = z.enum(['legato', 'always']).default('legato')

export const glide = z.union([
  z.strictObject({ ms: milliseconds(60_000), when }),
  z.strictObject({ centsPerSecond: positive(1_000_000), when }),
])

export const vibrato = z.strictObject({
  cents: z.number().min(0).max(1200).default(20),
  hz: positive(20).default(5.5),
  delayMs: milliseconds(60_000).default(0),
  controller: controller.optional(),
})

const ratio = z.string().regex(RATIO_TEXT, 'flashes to beats, such as "3:2"')

export const pulse = z.union([
  z.strictObject({ ratio, controller: controller.optional() }),
  z.strictObject({ bpm: z.number().min(1).max(1800), controller: controller.optional() }),
])

export const wander = z.strictObject({
  cents: z.number().min(0).max(1200).default(8),
  seconds: z.number().min(0.5).max(3600).default(20),
  seed: z.int().min(0).max(0xffff_ffff).default(1),
})
