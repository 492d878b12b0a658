import { z } from 'zod'
import { PER_LAMP } from '../domain/schema.ts'
import type { Ensemble, EnsembleRules } from './ensemble.ts'
import { startEnsemble, stepEnsemble } from './ensemble.ts'
import { prioritySchema } from './priority.ts'
import { spreadAt } from './spread.ts'
import type { Strategy } from './strategy.ts'

const options = z.strictObject({
  priority: prioritySchema,
  detuneCents: z
    .array(z.number().min(-1200).max(1200))
    .default([])
    .describe('Cents added per lamp, in the order of the part; lamps beyond the list are not detuned')
    .meta(PER_LAMP),
  spreadCents: z
    .number()
    .min(0)
    .max(2400)
    .default(0)
    .describe(
      'Cents between the first lamp of the part and its last, the others evenly between; half of it below the pitch, half above',
    ),
  retrigger: z.boolean().default(false).describe('Strike the lamps anew on legato notes'),
})
type Options = z.output<typeof options>

interface State extends Ensemble {
  readonly rules: EnsembleRules
}

/** One voice on all the part's lamps. */
export const unison: Strategy<State, Options> = {
  kind: 'unison',
  about: 'One note at a time, on all the lamps together; letting go returns to a note still held.',
  options,
  check: ({ detuneCents }, lamps) =>
    detuneCents.length > lamps.length
      ? [
          {
            option: 'detuneCents',
            message: `${detuneCents.length} values for ${lamps.length} lamps; give at most one per lamp`,
          },
        ]
      : [],
  start: ({ priority, retrigger, detuneCents, spreadCents }, lamps) => ({
    ...startEnsemble(lamps),
    rules: {
      priority,
      retrigger,
      shades: lamps.map((_, index) => ({
        ratio: 1,
        cents: (detuneCents[index] ?? 0) + spreadAt(spreadCents, index, lamps.length),
      })),
    },
  }),
  step(state, event, view, now) {
    const next = stepEnsemble(state, event, view, now, state.rules)
    return { state: { ...next.state, rules: state.rules }, intents: next.intents }
  },
}
