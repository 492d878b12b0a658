import { everyPlace, unknown } from './link-lamps.ts'
import type { SerialLinkOut } from './serial-link-event.ts'
import type { Flight, SerialLinkState } from './serial-link-state.ts'

/** Frames without a reply: each is counted, and what it carried is sent again; dark as dark where all still shall be. */
export function giveUp(
  state: SerialLinkState,
  flights: readonly Flight[],
): { readonly state: SerialLinkState; readonly out: readonly SerialLinkOut[] } {
  let next = state
  for (const { type, places } of flights) {
    const again = type === 'dark' && next.lamps.every(({ rate }) => rate === 0)
    if (again) next = { ...next, owes: { ...next.owes, dark: true } }
    else next = unknown(next, type === 'dark' ? everyPlace(next) : places)
  }
  return {
    state: next,
    out: flights.map(({ sequence }): SerialLinkOut => ({ kind: 'count', what: 'unanswered', sequence })),
  }
}
