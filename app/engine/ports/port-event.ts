import type { PortWay } from './midi-system.ts'
import type { RememberedPort } from './port-match.ts'

/** What changed for one wanted port; told once per change. `message` and `question` are for people. */
export type PortEvent = { readonly wanted: string; readonly way: PortWay } & PortChange

export type PortChange =
  /** Open: for the first time, or again. `port` is what to remember of it from now on. */
  | { readonly kind: 'opened' | 'returned'; readonly name: string; readonly port: RememberedPort }
  /** It was open and is not any more: release what it holds. What it is now may follow (`ambiguous`, `busy`, `unavailable`). */
  | { readonly kind: 'lost'; readonly name: string; readonly message: string }
  /** It is not there; polling goes on. Not told after `lost`, which says it already. */
  | { readonly kind: 'missing'; readonly message: string }
  /** It is there, but will not open (`busy`), or MIDI as a whole cannot be used (`unavailable`): tried again, more slowly. */
  | { readonly kind: 'busy' | 'unavailable'; readonly message: string }
  /** It could be any of these: ask, and answer with `choose(wanted, place)`. `names` stand beside `places`. */
  | {
      readonly kind: 'ambiguous'
      readonly places: readonly number[]
      readonly names: readonly string[]
      readonly question: string
    }
