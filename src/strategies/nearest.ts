import { z } from 'zod'
import type { Key } from '../domain/units.ts'
import type { Chooser, Pool } from './pool.ts'
import { startPool, stepPool } from './pool.ts'
import { resumeSchema } from './resume.ts'
import { stealSchema } from './steal.ts'
import type { Strategy } from './strategy.ts'

const options = z.strictObject({ steal: stealSchema, resume: resumeSchema.default(false) })
type Options = z.output<typeof options>

interface State extends Pool {
  /** Per lamp: the key it sounded last; null before its first. */
  readonly last: readonly (Key | null)[]
}

const chooser: Chooser<State> = {
  // A lamp that has not sounded yet is near to nothing: it is taken only when no other is free.
  choose(state, note, isFree) {
    let best = -1
    let bestDistance = Infinity
    state.last.forEach((key, index) => {
      if (!isFree(index)) return
      const distance = key === null ? Number.MAX_VALUE : Math.abs(key - note.key)
      if (distance < bestDistance) {
        best = index
        bestDistance = distance
      }
    })
    return best
  },
  sounds: (state, note, index) => ({ ...state, last: state.last.with(index, note.key) }),
}

/** A new note takes the free lamp whose last pitch is closest; of equals the earlier in the part's order. */
export const nearest: Strategy<State, Options> = {
  kind: 'nearest',
  about: 'Each note takes the free lamp whose last pitch is closest, so that lines stay where they are.',
  options,
  start: ({ steal, resume }, lamps) => ({ ...startPool(lamps, steal, resume), last: lamps.map(() => null) }),
  step: (state, event, view, now) => stepPool(state, event, view, now, chooser),
}
