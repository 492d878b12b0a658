import type { LampIndex } from '../domain/ids.ts'
import type { LampChange, LampState } from '../domain/lamp-state.ts'
import type { OutputLamp } from './encoder-event.ts'

export function bySlot(lamps: readonly OutputLamp[]): OutputLamp[] {
  return [...lamps].sort((a, b) => a.slot - b.slot)
}

/** By a lamp's place in the rig: its place in `lamps`, -1 for lamps of other outputs. */
export type Places = readonly number[]

export function placesOf(lamps: readonly { readonly index: LampIndex }[]): Places {
  const most = lamps.reduce((last, { index }) => Math.max(last, index), -1)
  const places = Array.from({ length: most + 1 }, () => -1)
  lamps.forEach(({ index }, place) => {
    places[index] = place
  })
  return places
}

/**
 * One moment's changes, each beside the place of its lamp, in order of place, the last for each lamp. The work grows with
 * the changes, not with the lamps.
 */
export function changesBySlot(
  places: Places,
  changes: readonly LampChange[],
): readonly { readonly place: number; readonly state: LampState }[] {
  const last = new Map<number, LampState>()
  for (const { index, state } of changes) {
    const place = places[index] ?? -1
    if (place >= 0) last.set(place, state)
  }
  const found = Array.from(last, ([place, state]) => ({ place, state }))
  return found.length < 2 ? found : found.sort((a, b) => a.place - b.place)
}
