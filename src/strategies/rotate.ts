import { z } from 'zod'
import type { Chooser, Pool } from './pool.ts'
import { startPool, stepPool } from './pool.ts'
import { resumeSchema } from './resume.ts'
import { stealSchema } from './steal.ts'
import type { Strategy } from './strategy.ts'

const options = z.strictObject({ steal: stealSchema, resume: resumeSchema.default(false) })
type Options = z.output<typeof options>

interface State extends Pool {
  /** The lamp whose turn is next. */
  readonly turn: number
}

const chooser: Chooser<State> = {
  choose(state, _note, isFree) {
    const count = state.on.length
    for (let step = 0; step < count; step++) {
      const index = (state.turn + step) % count
      if (isFree(index)) return index
    }
    return -1
  },
  took: (state, index) => ({ ...state, turn: (index + 1) % state.on.length }),
}

/** Each new note takes the next lamp in turn, free ones first. */
export const rotate: Strategy<State, Options> = {
  kind: 'rotate',
  about: 'Each note takes the next lamp in turn, free ones first.',
  options,
  start: ({ steal, resume }, lamps) => ({ ...startPool(lamps, steal, resume), turn: 0 }),
  step: (state, event, view, now) => stepPool(state, event, view, now, chooser),
}
