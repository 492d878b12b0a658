import { bareName } from './port-name.ts'
import type { Slot } from './port-slot.ts'

/**
 * Which places of the list are held open. Lists give names only: a slot that remembers its rank among all of its bare name gets that
 * place, and others the first free one of their name.
 */
export function heldPlaces(slots: readonly Slot[], list: readonly string[]): Map<Slot, number> {
  const places = new Map<Slot, number>()
  const used = new Set<number>()
  const put = (slot: Slot, place: number | undefined): void => {
    if (place === undefined || used.has(place)) return
    places.set(slot, place)
    used.add(place)
  }
  const open = slots.filter((slot) => slot.held !== undefined)
  for (const slot of open) {
    const bare = bareName(slot.held?.name ?? '')
    const group = [...list.keys()].filter((place) => bareName(list[place] ?? '') === bare)
    const own = group[slot.remembered.nth ?? -1]
    if (group.length === slot.remembered.of && own !== undefined && list[own] === slot.held?.name)
      put(slot, own)
  }
  for (const slot of open) {
    if (places.has(slot)) continue
    put(
      slot,
      [...list.keys()].find((place) => list[place] === slot.held?.name && !used.has(place)),
    )
  }
  return places
}
