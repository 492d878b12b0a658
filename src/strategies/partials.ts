import { z } from 'zod'
import { PER_LAMP } from '../domain/schema.ts'
import type { Ensemble, EnsembleRules } from './ensemble.ts'
import { startEnsemble, stepEnsemble } from './ensemble.ts'
import { prioritySchema } from './priority.ts'
import type { Strategy } from './strategy.ts'

const options = z.strictObject({
  ratios: z
    .array(z.number().positive().max(1024))
    .min(1)
    .optional()
    .describe(
      'Frequency ratio per lamp, in the order of the part; left out: 1, 2, 3 and so on. Lamps beyond the list stay dark',
    )
    .meta(PER_LAMP),
  priority: prioritySchema,
})
type Options = z.output<typeof options>

interface State extends Ensemble {
  readonly rules: EnsembleRules
}

/** Lamp n sounds the n-th partial of one voice. */
export const partials: Strategy<State, Options> = {
  kind: 'partials',
  about: 'One note at a time, spread over the lamps as its partials.',
  options,
  check: ({ ratios }, lamps) =>
    ratios && ratios.length > lamps.length
      ? [
          {
            option: 'ratios',
            message: `${ratios.length} ratios for ${lamps.length} lamps; give at most one per lamp`,
          },
        ]
      : [],
  start: ({ ratios, priority }, lamps) => ({
    ...startEnsemble(lamps),
    rules: {
      priority,
      retrigger: false,
      shades: (ratios ?? lamps.map((_, index) => index + 1)).map((ratio) => ({ ratio, cents: 0 })),
    },
  }),
  step(state, event, view, now) {
    const next = stepEnsemble(state, event, view, now, state.rules)
    return { state: { ...next.state, rules: state.rules }, intents: next.intents }
  },
}
