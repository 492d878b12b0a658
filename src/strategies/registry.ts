import { canon } from './canon.ts'
import { chime } from './chime.ts'
import { lowestFree } from './lowest-free.ts'
import { nearest } from './nearest.ts'
import { partials } from './partials.ts'
import { rotate } from './rotate.ts'
import { steps } from './steps.ts'
import type { AnyStrategy } from './strategy.ts'
import { registered } from './strategy.ts'
import { travel } from './travel.ts'
import { unison } from './unison.ts'

/** Every strategy a show may name. To add one: its file, and its line here. */
export const strategies: readonly AnyStrategy[] = [
  registered(unison),
  registered(lowestFree),
  registered(travel),
  registered(rotate),
  registered(nearest),
  registered(chime),
  registered(partials),
  registered(canon),
  registered(steps),
]
