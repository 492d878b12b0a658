import type { Show } from '../domain/show.ts'
import { cautionFindings } from './check/caution.ts'
import { clockInFindings } from './check/clock-in.ts'
import { clockOutFindings } from './check/clock-out.ts'
import { condensed, gravestFirst } from './check/condense.ts'
import { dutyFindings } from './check/duty-trim.ts'
import { farthestFindings } from './check/farthest.ts'
import type { CheckFinding } from './check/finding.ts'
import { flashGuardFindings } from './check/flash-guard.ts'
import { flashPaceFindings } from './check/flash-pace.ts'
import { flashRateFindings } from './check/flash-rates.ts'
import { foldedFindings } from './check/folded.ts'
import { lampHeatFindings } from './check/lamp-heat.ts'
import { midiOutputFindings } from './check/midi-outputs.ts'
import { padFindings } from './check/pads.ts'
import { patternFindings } from './check/patterns.ts'
import { pulseRateFindings } from './check/pulse-rates.ts'
import { rangeFindings } from './check/range.ts'
import { serialOutputFindings } from './check/serial-outputs.ts'
import { setListFindings } from './check/set-list.ts'
import { sharedInputFindings } from './check/shared-input.ts'
import { sharingFindings } from './check/sharing.ts'
import { stringsCostFindings } from './check/strings-cost.ts'
import { supplyFindings } from './check/supply.ts'
import type { Survey } from './check/survey.ts'
import { surveyShow } from './check/survey.ts'
import { switchingFindings } from './check/switching.ts'
import { toldTuningFindings } from './check/told-tuning.ts'
import { tuningErrorFindings } from './check/tuning-error.ts'
import { tuningUseFindings } from './check/tunings.ts'
import { unisonBeatFindings } from './check/unison-beats.ts'
import { unusedFindings } from './check/unused.ts'
import { zoneFindings } from './check/zones.ts'

const CHECKS: readonly ((survey: Survey) => CheckFinding[])[] = [
  rangeFindings,
  supplyFindings,
  flashRateFindings,
  pulseRateFindings,
  flashPaceFindings,
  flashGuardFindings,
  lampHeatFindings,
  tuningErrorFindings,
  unisonBeatFindings,
  patternFindings,
  sharingFindings,
  zoneFindings,
  midiOutputFindings,
  toldTuningFindings,
  serialOutputFindings,
  clockInFindings,
  clockOutFindings,
  unusedFindings,
  switchingFindings,
  padFindings,
  setListFindings,
  sharedInputFindings,
  stringsCostFindings,
  foldedFindings,
  tuningUseFindings,
  farthestFindings,
  dutyFindings,
  cautionFindings,
]

/**
 * What would go wrong with `show` on stage, as far as it can be told beforehand; gravest first, the caution that goes for
 * every show last. A show that nothing is said of but the caution is one that nothing was counted against, no more.
 */
export function checkShow(show: Show): readonly CheckFinding[] {
  const survey = surveyShow(show)
  return gravestFirst(CHECKS.flatMap((check) => condensed(check(survey))))
}
