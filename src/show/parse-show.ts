import type { Show } from '../domain/show.ts'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { crossCheck } from './cross-check.ts'
import { readHeader } from './header.ts'
import { issueFindings } from './issue-findings.ts'
import { showJsonSchema } from './json-schema.ts'
import { readJson } from './json-text.ts'
import type { Migration, RawShow } from './migrate.ts'
import { MIGRATIONS } from './migrate.ts'
import { showSchema } from './schema.ts'
import type { Finding, ShowFault } from './show-fault.ts'

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
  const faults = findings.slice(0, MOST_FAULTS).map(json.locate)
  // After a migration the paths are those of the new version, and the text's lines would mislead.
  const isMoved = header.ok && header.notes.length > 0
  return { ok: false, faults: isMoved ? faults.map(withoutPlace) : faults }
}

interface Checked {
  readonly show: Show | undefined
  readonly findings: readonly Finding[]
}

function check(raw: RawShow, strategies: readonly AnyStrategyRules[]): Checked {
  const parsed = schemaFor(strategies).safeParse(raw)
  if (parsed.success) return { show: parsed.data, findings: crossCheck(parsed.data, strategies) }
  const shape = issueFindings(parsed.error.issues, showJsonSchema(strategies), raw)
  return { show: undefined, findings: [...shape, ...crossCheck(raw, strategies)] }
}

const schemas = new WeakMap<readonly AnyStrategyRules[], ReturnType<typeof showSchema>>()

/** Building the schema takes longer than reading a show with it. */
function schemaFor(strategies: readonly AnyStrategyRules[]): ReturnType<typeof showSchema> {
  const known = schemas.get(strategies) ?? showSchema(strategies)
  schemas.set(strategies, known)
  return known
}

function withoutPlace({ path, found, expected, hint }: ShowFault): ShowFault {
  return { path, found, expected, hint }
}
