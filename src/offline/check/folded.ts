import type { CheckFinding } from './finding.ts'
import { grouped } from './grouped.ts'
import { hasChosenKeys } from './chosen-keys.ts'
import { keySpans } from './key-spans.ts'
import { figure, lampsNamed } from './listed.ts'
import { soundsPitch } from './sounds-pitch.ts'
import type { Survey, SurveyedLamp, SurveyedPart } from './survey.ts'

const MOST_GROUPS = 3

/**
 * Keys moved by octaves into a lamp's range, where the part chose its keys: with all 128 left open nobody meant the ends.
 */
export function foldedFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ parts }) =>
    parts.filter(({ part }) => hasChosenKeys(part) && soundsPitch(part)).flatMap(partFindings),
  )
}

function partFindings({ place, lamps }: SurveyedPart): CheckFinding[] {
  const moving = lamps.filter(({ figures }) => figures.up.length + figures.down.length > 0)
  const groups = [...grouped(moving, foldText)]
  const rest = groups.slice(MOST_GROUPS).flatMap(([, group]) => group)
  const told = groups.slice(0, MOST_GROUPS).map(([text, group]) => `${names(group)}: ${text}`)
  const others = rest.length === 0 ? [] : [`${names(rest)}: other keys are moved too.`]
  return [...told, ...others].map((message) => ({ gravity: 'note', ...place, message }))
}

function names(lamps: readonly SurveyedLamp[]): string {
  return lampsNamed(lamps.map(({ lamp }) => lamp.id))
}

function foldText({ lamp, noteFloor, figures: { up, down } }: SurveyedLamp): string {
  const ways = [
    ...(up.length === 0 ? [] : [`${keySpans(up)} up`]),
    ...(down.length === 0 ? [] : [`${keySpans(down)} down`]),
  ]
  return `octaves move ${ways.join(' and ')}, into ${figure(noteFloor)} to ${figure(lamp.highHz)} Hz${noteFloor > lamp.lowHz ? ', as the flash guard leaves nothing slower' : ''}.`
}
