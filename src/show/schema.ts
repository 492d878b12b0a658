import { z } from 'zod'
import type { Show } from '../domain/show.ts'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { clockSchema } from './clock-schema.ts'
import { completeShow } from './complete-show.ts'
import { label, reference } from './field-values.ts'
import { guards } from './guard-schema.ts'
import { playerSchema } from './player-schema.ts'
import { rigSchema } from './rig-schema.ts'
import { songSchema, thruSchema } from './song-schema.ts'
import { switchingSchema } from './switching-schema.ts'
import { EVEN, tuningSchema } from './tuning-schema.ts'

/**
 * The shape of a whole show file, strict, with its defaults; what comes out is a `Show`. References between
 * the parts of a show are not looked at here: see `crossCheck`.
 */
export function showSchema(strategies: readonly AnyStrategyRules[]): z.ZodType<Show> {
  return z
    .strictObject({
      format: z.literal('lanthorn-show'),
      version: z.literal(1),
      title: label,
      rig: rigSchema,
      thru: z.array(thruSchema).default([]),
      players: z.array(playerSchema).min(1),
      tunings: z.array(tuningSchema).min(1).default([EVEN]),
      songs: z.array(songSchema(strategies)).min(1),
      /** Left out: every song, in order. */
      setList: z.array(reference).min(1).optional(),
      switching: switchingSchema.prefault({}),
      clock: clockSchema.prefault({}),
      guards: guards.prefault({}),
    })
    .transform(completeShow)
}
