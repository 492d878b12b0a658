import type { LampChange, LampState } from '../domain/lamp-state.ts'
import type { OutputLamp } from './encoder-event.ts'

export function bySlot(lamps: readonly OutputLamp[]): OutputLamp[] {
  return [...lamps].sort((a, b) => a.slot - b.slot)
}

/** One moment's changes, each beside the place in `lamps` of its lamp: in that order, the last for each lamp. */
export function changesBySlot(
  lamps: readonly { readonly index: number }[],
  changes: readonly LampChange[],
): { readonly place: number; readonly state: LampState }[] {
  const last = new Map(changes.map((change) => [change.index, change.state]))
  return lamps.flatMap(({ index }, place) => {
    const state = last.get(index)
    return state === undefined ? [] : [{ place, state }]
  })
}
