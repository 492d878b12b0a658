import type { Show } from '../../src/domain/show.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'

/** A show read as from a file; throws what the reader has against it. */
export function validShow(raw: unknown): Show {
  const parsed = parseShow(JSON.stringify(raw), strategies)
  if (!parsed.ok) throw new Error(formatFaults(parsed.faults))
  return parsed.show
}
