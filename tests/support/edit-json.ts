import type { Json, RawShow } from './shows.ts'

/** A copy of `show` with the value at `path` (`rig.lamps.0.watts`) set, or its field left out where `value` is undefined. */
export function edited(show: RawShow, path: string, value: Json | undefined): RawShow {
  const copy = structuredClone(show)
  const steps = path.split('.')
  const last = steps.pop() as string
  let at: Json = copy
  for (const step of steps) at = (at as { [field: string]: Json })[step] as Json
  const holder = at as { [field: string]: Json }
  if (value === undefined) delete holder[last]
  else holder[last] = value
  return copy
}
