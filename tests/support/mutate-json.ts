import fc from 'fast-check'
import type { Json, RawShow } from './shows.ts'

/** One thing done to one place of a JSON value: left out, renamed, set to something else, or given twice. */
export interface Mutation {
  readonly path: readonly (string | number)[]
  readonly deed: 'delete' | 'rename' | 'retype' | 'repeat'
  readonly value: Json
}

/** Any one change to any one place of `show`. */
export function mutations(show: RawShow): fc.Arbitrary<Mutation> {
  const value = fc.oneof(
    fc.constantFrom<Json>(
      null,
      true,
      0,
      -0,
      -1,
      1,
      2,
      0.5,
      16,
      127,
      1e308,
      '',
      'fern',
      'keys',
      'even',
      [],
      {},
    ),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.string(),
    fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<Json>,
  )
  return fc.record({
    path: fc.constantFrom(...placesIn(show)),
    deed: fc.constantFrom('delete', 'rename', 'retype', 'repeat'),
    value,
  })
}

function placesIn(value: Json, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  const own = path.length === 0 ? [] : [path]
  if (typeof value !== 'object' || value === null) return own
  const inner = Array.isArray(value)
    ? value.flatMap((item, index) => placesIn(item, [...path, index]))
    : Object.entries(value).flatMap(([name, one]) => placesIn(one, [...path, name]))
  return [...own, ...inner]
}

/** `show` with the mutation done; unchanged where an earlier one took its place away. */
export function mutated(show: RawShow, { path, deed, value }: Mutation): RawShow {
  const copy = structuredClone(show)
  let at: Json | undefined = copy
  for (const step of path.slice(0, -1)) at = child(at, step)
  const last = path.at(-1) as string | number
  if (typeof at !== 'object' || at === null || child(at, last) === undefined) return copy
  if (Array.isArray(at)) editList(at, Number(last), deed, value)
  else editObject(at, String(last), deed, value)
  return copy
}

function child(value: Json | undefined, step: string | number): Json | undefined {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined
  return (value as { [field: string]: Json })[step]
}

function editList(list: Json[], index: number, deed: Mutation['deed'], value: Json): void {
  if (deed === 'delete') list.splice(index, 1)
  else if (deed === 'repeat') list.push(structuredClone(list[index] as Json))
  else list[index] = value
}

function editObject(
  object: { [field: string]: Json },
  name: string,
  deed: Mutation['deed'],
  value: Json,
): void {
  const old = object[name] as Json
  if (deed === 'retype') object[name] = value
  else if (deed === 'repeat') object[`${name}${name}`] = structuredClone(old)
  else {
    delete object[name]
    if (deed === 'rename') object[`${name.slice(1)}${name.slice(0, 1)}`] = old
  }
}
