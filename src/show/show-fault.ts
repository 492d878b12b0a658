import type { JsonPath } from './json-path.ts'

/** Something wrong with a show file: where, what is there, what should be, and what was perhaps meant. */
export interface ShowFault {
  /** `$.songs[0].parts[1].lamps[2]` */
  readonly path: string
  /** From 1. Absent where the place is not in the text, as after a migration. */
  readonly line?: number | undefined
  /** From 1, in UTF-16 units. */
  readonly column?: number | undefined
  readonly found: string
  /** Empty where `found` says it all. */
  readonly expected: string
  readonly hint?: string | undefined
}

/** A fault before it is known where in the text its path is. */
export interface Finding {
  readonly path: JsonPath
  readonly found: string
  readonly expected: string
  readonly hint?: string | undefined
}

/** The most faults that are written out in full. */
const MOST = 100

/** One line: `$.songs[0].tempoo (line 41): unknown field "tempoo"; expected one of ...; did you mean "tempo"?` */
export function formatFault(fault: ShowFault): string {
  const { path, line, column } = fault
  // A path says where on the line; only without one is the column of use.
  const place = path === '$' && column !== undefined ? `line ${line}, column ${column}` : `line ${line}`
  const where = line === undefined ? '' : ` (${place})`
  return `${path}${where}: ${faultWords(fault)}`
}

/** What is wrong, without where: `unknown field "tempoo"; expected one of ...; did you mean "tempo"?` */
export function faultWords({ found, expected, hint }: ShowFault): string {
  const parts = [found]
  if (expected !== '') parts.push(`expected ${expected}`)
  if (hint !== undefined) parts.push(hint)
  return parts.join('; ')
}

/** A line for each fault, the first hundred; the rest are counted. */
export function formatFaults(faults: readonly ShowFault[]): string {
  const lines = faults.slice(0, MOST).map(formatFault)
  if (faults.length > MOST) lines.push(`and ${faults.length - MOST} more`)
  return lines.join('\n')
}
