import { bareName, hasAddress } from './port-name.ts'

/** What became of an open port between two lists. `doubt`: one of several equal names is gone, and nothing says which. */
export type PortFate =
  { readonly kind: 'stays'; readonly name: string } | { readonly kind: 'lost' } | { readonly kind: 'doubt' }

/**
 * Compares two lists of names for ports held open, `held` by their names in `before`, in the order of their places. Answers in the
 * order of `held`. A port stays open whatever its place and whatever other ports come and go; a changed count in its name is followed. An
 * address never changes while a device stays plugged: a new one means that it was pulled and put back between two looks, and is dead.
 */
export function portFates(
  held: readonly string[],
  before: readonly string[],
  now: readonly string[],
): PortFate[] {
  const was = counts(before)
  const is = counts(now)
  const seen = new Map<string, number>()
  return held.map((name) => {
    const rank = seen.get(name) ?? 0
    seen.set(name, rank + 1)
    const here = is.get(name) ?? 0
    if (here > 0) return here >= (was.get(name) ?? 0) ? { kind: 'stays', name } : { kind: 'doubt' }
    const renamed = renumbered(name, rank, before, now, was, is)
    return renamed === undefined ? { kind: 'lost' } : { kind: 'stays', name: renamed }
  })
}

/** The new name of the `rank`-th port called `name`, if as many of its bare name came as went. */
function renumbered(
  name: string,
  rank: number,
  before: readonly string[],
  now: readonly string[],
  was: ReadonlyMap<string, number>,
  is: ReadonlyMap<string, number>,
): string | undefined {
  const bare = bareName(name)
  const went = before.filter((other) => bareName(other) === bare && !is.has(other))
  const came = now.filter((other) => bareName(other) === bare && !was.has(other))
  if (went.length !== came.length || [...went, ...came].some(hasAddress)) return undefined
  const places = [...went.keys()].filter((place) => went[place] === name)
  return came[places[rank] ?? -1]
}

export function counts(names: readonly string[]): Map<string, number> {
  const found = new Map<string, number>()
  for (const name of names) found.set(name, (found.get(name) ?? 0) + 1)
  return found
}
