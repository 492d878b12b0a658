import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { cursor } from './cursor.ts'
import { padFindings } from './pad-findings.ts'
import { partFindings } from './part-findings.ts'
import { patternFindings } from './pattern-findings.ts'
import { referenceFindings } from './reference-findings.ts'
import { repeatedIds } from './repeated-ids.ts'
import { rigFindings } from './rig-findings.ts'
import type { Finding } from './show-fault.ts'
import { switchingFindings } from './switching-findings.ts'
import { tuningFindings } from './tuning-findings.ts'

/**
 * What no field alone can be wrong about: references, ids and slots taken twice, limits that cross. `root` may be
 * of any shape; what has the wrong one is passed over here, so that one fault does not hide another.
 */
export function crossCheck(root: unknown, strategies: readonly AnyStrategyRules[]): Finding[] {
  const show = cursor(root)
  return [
    ...repeatedIds(show),
    ...referenceFindings(show),
    ...rigFindings(show),
    ...padFindings(show),
    ...partFindings(show, strategies),
    ...patternFindings(show, strategies),
    ...switchingFindings(show),
    ...tuningFindings(show),
  ]
}
