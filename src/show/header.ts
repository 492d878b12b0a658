import { foundValue } from './found.ts'
import type { Migration, RawShow } from './migrate.ts'
import { migrate, SHOW_VERSION } from './migrate.ts'
import { didYouMean } from './near-miss.ts'
import type { Finding } from './show-fault.ts'

export type Header =
  | { readonly ok: true; readonly show: RawShow; readonly notes: readonly string[] }
  | { readonly ok: false; readonly finding: Finding }

const FORMAT = 'lanthorn-show'

/** Whether `value` is a Lanthorn show at all, of a version that can be read; older ones are brought up to date. */
export function readHeader(value: unknown, migrations: readonly Migration[]): Header {
  if (!isObject(value)) return fault([], `this is not a Lanthorn show: ${foundValue(value)}`, 'an object')
  if (value.format !== FORMAT) {
    const found = value.format === undefined ? 'the field "format" is missing' : foundValue(value.format)
    const hint = didYouMean(value.format, [FORMAT])
    return fault(['format'], `this is not a Lanthorn show: ${found}`, `"${FORMAT}"`, hint)
  }
  const { version } = value
  if (typeof version !== 'number' || !Number.isSafeInteger(version) || version < 0) {
    const found = version === undefined ? 'the field "version" is missing' : foundValue(version)
    return fault(['version'], found, `a whole number, ${SHOW_VERSION} for shows of this Lanthorn`)
  }
  if (version > SHOW_VERSION) {
    const found = `made by a newer Lanthorn, version ${version}; this one reads up to ${SHOW_VERSION}`
    return fault(['version'], `${found}; nothing was changed`, '', 'open it with the newer Lanthorn')
  }
  const migrated = migrate(value, version, migrations)
  if (migrated.ok) return migrated
  const { stuckAt, why } = migrated
  const found =
    why === undefined
      ? `no way leads on from version ${stuckAt}`
      : `version ${stuckAt} could not be brought up to date: ${why}`
  return fault(['version'], `${found}; nothing was changed`, `version ${SHOW_VERSION}`)
}

function fault(path: readonly string[], found: string, expected: string, hint?: string): Header {
  return { ok: false, finding: { path, found, expected, hint } }
}

function isObject(value: unknown): value is RawShow {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
