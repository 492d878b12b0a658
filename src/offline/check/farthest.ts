import type { CheckFinding } from './finding.ts'
import type { KeyFigures } from './key-figures.ts'
import { keyName } from './key-spans.ts'
import { figure } from './listed.ts'
import type { Pitch } from './pitch-table.ts'
import { HEARD_CENTS } from './pitch-table.ts'
import { soundsPitch } from './sounds-pitch.ts'
import type { Survey, SurveyedLamp, SurveyedPart } from './survey.ts'

/** The worst pitch of a show in which none is so far off that it is heard; others are told as such. */
export function farthestFindings({ songs }: Survey): CheckFinding[] {
  const seen = new Set<KeyFigures>()
  let worst: { readonly surveyed: SurveyedPart; readonly one: SurveyedLamp; readonly off: number } | undefined
  for (const surveyed of songs.flatMap(({ parts }) => parts)) {
    if (!soundsPitch(surveyed.part)) continue
    for (const one of surveyed.lamps) {
      const { farthest, table, transpose } = one.figures
      if (farthest === undefined || seen.has(one.figures)) continue
      seen.add(one.figures)
      const off = table.off(farthest + transpose)
      if (off > (worst?.off ?? -1)) worst = { surveyed, one, off }
    }
  }
  return !worst || worst.off > HEARD_CENTS ? [] : tell(worst.surveyed, worst.one)
}

function tell({ place }: SurveyedPart, { lamp, figures }: SurveyedLamp): CheckFinding[] {
  const { farthest, table, transpose } = figures
  if (farthest === undefined) return []
  const pitch: Pitch = table.pitch(farthest + transpose)
  if (typeof pitch === 'string') return []
  const cents = `${pitch.cents > 0 ? '+' : ''}${pitch.cents.toFixed(2)}`
  const message =
    `Farthest off of all pitches is key ${keyName(farthest)} on lamp ${lamp.id}: ${figure(pitch.hz, 6)} Hz asked, ${figure(pitch.realHz, 6)} Hz made, ${cents} cents; fine, since about ` +
    `${HEARD_CENTS} cents are heard (common practice, no source). These are roundings alone: how true the clock of a lamp box runs comes on top, the same for all its lamps.`
  return [{ gravity: 'note', ...place, message }]
}
