import { counts } from './port-fate.ts'

/** The names in `after` that are more often there than in `before`, each once for each time more. */
export function newcomers(before: readonly string[], after: readonly string[]): string[] {
  const was = counts(before)
  return after.filter((name) => {
    const left = was.get(name) ?? 0
    was.set(name, left - 1)
    return left <= 0
  })
}

/**
 * The places in `list` that are not our own. Of equal names the last are ours: a port is listed after those that were there when it
 * was made.
 */
export function othersPlaces(list: readonly string[], own: readonly string[]): number[] {
  const ours = counts(own)
  const places: number[] = []
  for (let place = list.length - 1; place >= 0; place--) {
    const name = list[place] ?? ''
    const left = ours.get(name) ?? 0
    if (left > 0) ours.set(name, left - 1)
    else places.push(place)
  }
  return places.reverse()
}
