import { bareName, nameParts, shownName } from './port-name.ts'

/** A port as a show or a session remembers it. */
export interface RememberedPort {
  readonly name: string
  /** Which of the ports with this bare name, in list order, from 0. Absent: nobody ever chose. */
  readonly nth?: number | undefined
  /** How many ports had this bare name then. Absent: not known. */
  readonly of?: number | undefined
}

export type PortMatch =
  | { readonly kind: 'found'; readonly place: number }
  | { readonly kind: 'missing' }
  | { readonly kind: 'ambiguous'; readonly places: readonly number[]; readonly question: string }

/** What to remember of the port at `place`, so that `matchPort` finds it again. `place` must be in the list. */
export function rememberPort(list: readonly string[], place: number): RememberedPort {
  const name = list[place]
  if (name === undefined) throw new RangeError(`no port at place ${place} of ${list.length}`)
  const group = sameBare(name, list)
  return { name, nth: group.indexOf(place), of: group.length }
}

/**
 * Finds a remembered port in the present list. `taken`: places that are held for other wanted ports.
 * The exact name first, then the bare one, then either part of `client:port`. Equal names keep their order while all of them are there; when
 * not, or when there are more than were remembered, it asks. Systems do not say more of a port than its name: if two equal devices
 * were exchanged while nobody looked, nobody can know.
 */
export function matchPort(
  remembered: RememberedPort,
  list: readonly string[],
  taken: ReadonlySet<number> = new Set(),
): PortMatch {
  const { name, nth, of } = remembered
  const equal = sameBare(name, list)
  const group = equal.length > 0 ? equal : samePart(name, list)
  const free = group.filter((place) => !taken.has(place))
  if (free.length === 0) return { kind: 'missing' }

  const expected = of ?? (nth === undefined ? 1 : nth + 1)
  const exact = group.filter((place) => shownName(list[place] ?? '') === shownName(name))
  const [only] = exact
  // Counts and addresses are dealt out in order of plugging: of two equal devices the first one back may get the name of the other.
  const short = group.length < expected
  if (only !== undefined && exact.length === 1 && !short) {
    return taken.has(only) ? { kind: 'missing' } : { kind: 'found', place: only }
  }

  const whole =
    of === undefined ? (nth === undefined ? group.length === 1 : group.length > nth) : group.length === of
  const own = whole ? group[nth ?? 0] : undefined
  if (own !== undefined && !taken.has(own)) return { kind: 'found', place: own }
  // All are there, and all but one are held: it is the one left.
  const [left] = free
  if (whole && left !== undefined && free.length === 1) return { kind: 'found', place: left }
  return { kind: 'ambiguous', places: free, question: question(remembered, list, free) }
}

/** The places of the list whose name is the same but for the numbers that change. */
export function sameBare(name: string, list: readonly string[]): number[] {
  const bare = bareName(name)
  return [...list.keys()].filter((place) => bareName(list[place] ?? '') === bare)
}

function samePart(name: string, list: readonly string[]): number[] {
  const bare = bareName(name)
  if (bare === '') return []
  return [...list.keys()].filter((place) => nameParts(list[place] ?? '').includes(bare))
}

/** The question to a person: which of these is it? */
function question(
  { name, nth, of }: RememberedPort,
  list: readonly string[],
  places: readonly number[],
): string {
  const was =
    nth !== undefined && of !== undefined && of > 1 ? `, number ${nth + 1} of ${of} with this name` : ''
  const choices = places
    .map((place) => `"${list[place] ?? ''}" (place ${place + 1} in the list)`)
    .join(' or ')
  return places.length === 1
    ? `Is ${choices} the port "${name}"${was}? Choose it if it is; else plug the other one in again.`
    : `Which one is the port "${name}"${was}: ${choices}? Choose one.`
}
