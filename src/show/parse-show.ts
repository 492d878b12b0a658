import type { Show } from '../domain/show.ts'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { crossCheck } from './cross-check.ts'
import { readHeader } from './header.ts'
import { issueFindings } from './issue-findings.ts'
import { readJson } from './json-text.ts'
import type { Migration, RawShow } from './migrate.ts'
import { MIGRATIONS } from './migrate.ts'
import type { Finding, ShowFault } from './show-fault.ts'
import { showShape } from './show-shape.ts'

export type ParsedShow =
  | { readonly ok: true; readonly show: Show; readonly notes: readonly string[] }
  | { readonly ok: false; readonly faults: readonly ShowFault[] }

/** More are not told: finding their lines in a garbage file would take for ever. */
const MOST_FAULTS = 1000

/**
 * Reads the text of a show file. Either the whole show, valid, with every default filled in, or every fault it
 * has. Never throws, whatever the text. `notes` say what was done to an older show to read it.
 */
export function parseShow(
  text: string,
  strategies: readonly AnyStrategyRules[],
  migrations: readonly Migration[] = MIGRATIONS,
): ParsedShow {
  const json = readJson(text)
  if (!json.ok) return json
  const header = readHeader(json.value, migrations)
  const checked: Checked = header.ok
    ? check(header.show, strategies)
    : { show: undefined, findings: [header.finding] }
  const findings = [...json.repeated, ...checked.findings]
  if (header.ok && checked.show !== undefined && findings.length === 0) {
    return { ok: true, show: checked.show, notes: header.notes }
  }
  const faults = findings.slice(0, MOST_FAULTS).map(json.locate).sort(byPlace)
  // After a migration the paths are those of the new version, and the text's lines would mislead.
  const isMoved = header.ok && header.notes.length > 0
  return { ok: false, faults: isMoved ? faults.map(withoutPlace) : faults }
}

/**
 * The same for a text that was read before or that we wrote, where time is short: an engine reads edits while somebody plays. Fields that stand twice, of which
 * the last counts here, are not looked for while nothing else is wrong.
 */
export function parseShowAgain(text: string, strategies: readonly AnyStrategyRules[]): ParsedShow {
  const show = quickly(text, strategies)
  return show ? { ok: true, show, notes: [] } : parseShow(text, strategies)
}

/** Undefined where anything is wrong, or old. */
function quickly(text: string, strategies: readonly AnyStrategyRules[]): Show | undefined {
  try {
    const header = readHeader(JSON.parse(text) as unknown, MIGRATIONS)
    if (!header.ok || header.notes.length > 0) return undefined
    const { show, findings } = check(header.show, strategies)
    return findings.length === 0 ? show : undefined
  } catch {
    return undefined
  }
}

interface Checked {
  readonly show: Show | undefined
  readonly findings: readonly Finding[]
}

function check(raw: RawShow, strategies: readonly AnyStrategyRules[]): Checked {
  const shape = showShape(strategies)
  const parsed = shape.schema.safeParse(raw)
  if (parsed.success) return { show: parsed.data, findings: crossCheck(parsed.data, strategies) }
  const findings = issueFindings(parsed.error.issues, shape.json(), raw)
  return { show: undefined, findings: [...findings, ...crossCheck(raw, strategies)] }
}

/** In the order in which somebody reads the file. */
function byPlace(a: ShowFault, b: ShowFault): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0)
}

function withoutPlace({ path, found, expected, hint }: ShowFault): ShowFault {
  return { path, found, expected, hint }
}
