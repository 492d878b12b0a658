import { z } from 'zod'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { channel, controller, duty, id, key, label, milliseconds, reference } from './field-values.ts'
import { flashGuard } from './guard-schema.ts'
import { glide, pulse, vibrato, wander } from './motion-schema.ts'
import { patternSchema } from './pattern-schema.ts'
import { strategySchema } from './strategy-schema.ts'
import { enterAt } from './switching-schema.ts'

const dutySource = z.strictObject({
  base: duty.default(0.5),
  controller: controller.optional(),
  velocity: z.boolean().optional(),
  keys: z.tuple([key, key]).optional(),
  sweepSeconds: z.number().min(0.5).max(3600).optional(),
  low: duty.default(0.05),
  high: duty.default(0.5),
})

const claim = z.strictObject({
  when: z.enum(['playing', 'latched', 'always']),
  releaseMs: milliseconds(600_000).default(500),
  /** Of two claims on a lamp the higher has it; of equals the one that was there first. */
  priority: z.int().min(-100).max(100).default(0),
})

export function songSchema(strategies: readonly AnyStrategyRules[]) {
  const part = z.strictObject({
    id,
    player: reference,
    lamps: z.array(reference).min(1),
    strategy: strategySchema(strategies),
    transpose: z.int().min(-127).max(127).default(0),
    notes: z.tuple([key, key]).default([0, 127]),
    duty: dutySource.prefault({}),
    /** Left out: the song's. */
    tuning: reference.optional(),
    glide: glide.optional(),
    vibrato: vibrato.optional(),
    pulse: pulse.optional(),
    claim: claim.optional(),
    onLost: z.enum(['move', 'end']).default('move'),
    gapMs: milliseconds(10_000).default(0),
  })
  return z.strictObject({
    id,
    title: label,
    tempo: z.number().min(10).max(1000).default(120),
    beats: z.int().min(1).max(64).default(4),
    /** Left out: the show's first tuning. */
    tuning: reference.optional(),
    wander: wander.optional(),
    enter: z.enum(['cut', 'carry']).default('cut'),
    enterAt: enterAt.optional(),
    variantOf: reference.optional(),
    skip: z.boolean().default(false),
    minutes: z.number().min(0).max(600).optional(),
    flash: flashGuard.optional(),
    takes: z.array(z.string().min(1).max(1000)).max(64).default([]),
    notes: z.string().max(4000).default(''),
    parts: z.array(part),
    patterns: z.array(patternSchema).max(128).default([]),
  })
}

export const thruSchema = z.strictObject({
  player: reference,
  to: reference,
  pass: z.array(z.enum(['controllers', 'bend', 'clock', 'notes'])).min(1),
  channel: channel.optional(),
  controllers: z.array(z.strictObject({ from: controller, to: controller })).default([]),
})
