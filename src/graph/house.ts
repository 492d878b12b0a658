import type { Subscription } from 'rxjs'
import type { Diagnostic } from '../domain/diagnostic.ts'
import type { CellPlace } from './agenda.ts'
import type { TapEvent } from './tap.ts'

/** What every branch of the graph needs of the whole. */
export interface House {
  readonly agenda: CellPlace
  tap(event: TapEvent): void
  report(diagnostic: Diagnostic): void
  /** A stage threw: say so. What its lamps do is the branch's matter. */
  fault(source: string, error: unknown): void
  /** Everything dark, without waiting for the graph. */
  darkAll(): void
  /** Ends the subscription with the graph. */
  own(subscription: Subscription): void
}
