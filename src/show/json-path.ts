/** The way from the root of a JSON text to a place in it. */
export type JsonPath = readonly (string | number)[]

/** A longer name is cut: it is garbage, and would bury the message. */
const LONGEST = 64
const PLAIN = /^[\p{L}_$][\p{L}\p{M}\p{N}_$-]*$/u

/** `$.songs[0].parts[1]`; names that would not read well that way stand as `["odd name"]`. */
export function pathText(path: JsonPath): string {
  return path.reduce<string>((text, step) => {
    if (typeof step === 'number') return `${text}[${step}]`
    if (step.length > LONGEST) return `${text}[${JSON.stringify(`${step.slice(0, LONGEST)}...`)}]`
    return PLAIN.test(step) ? `${text}.${step}` : `${text}[${JSON.stringify(step)}]`
  }, '$')
}

/** The value at `path`; undefined where there is none. */
export function valueAt(root: unknown, path: JsonPath): unknown {
  let value = root
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined
    value = (value as Record<string | number, unknown>)[step]
  }
  return value
}
