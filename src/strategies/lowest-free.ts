import { z } from 'zod'
import type { Chooser, Pool } from './pool.ts'
import { startPool, stepPool } from './pool.ts'
import { resumeSchema } from './resume.ts'
import { stealSchema } from './steal.ts'
import type { Strategy } from './strategy.ts'

const options = z.strictObject({
  steal: stealSchema,
  resume: resumeSchema.default(true),
})
type Options = z.output<typeof options>

const chooser: Chooser<Pool> = {
  choose(state, _note, isFree) {
    for (let index = 0; index < state.on.length; index++) if (isFree(index)) return index
    return -1
  },
}

/** Each new note takes the first lamp in the part's order that is free. */
export const lowestFree: Strategy<Pool, Options> = {
  kind: 'lowest-free',
  about:
    'Each note takes the first lamp that is free, so that a held note keeps its lamp while others play around it.',
  options,
  start: ({ steal, resume }, lamps) => startPool(lamps, steal, resume),
  step: (state, event, view, now) => stepPool(state, event, view, now, chooser),
}
