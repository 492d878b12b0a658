import { hasChosenKeys } from './chosen-keys.ts'
import type { CheckFinding } from './finding.ts'
import { grouped } from './grouped.ts'
import { soundedKeys } from './key-figures.ts'
import { keySpans } from './key-spans.ts'
import { counted, figure, lampsNamed } from './listed.ts'
import type { Survey, SurveyedLamp, SurveyedPart } from './survey.ts'

const MOST_GROUPS = 3

/** Keys that lamps cannot sound, lamps that no key reaches, and parts that light nothing at all. */
export function rangeFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ parts }) => parts.flatMap(partFindings))
}

function partFindings(surveyed: SurveyedPart): CheckFinding[] {
  const { part, place, lamps } = surveyed
  if (lamps.every(({ figures }) => soundedKeys(figures) === 0)) return [silent(surveyed)]
  const reached = new Set(lamps.map(({ lamp }) => lamp.id))
  const unreached = part.lamps.filter((id) => !reached.has(id))
  const keyless = lamps.filter(({ figures }) => figures.keys === 0).map(({ lamp }) => lamp.id)
  return [
    ...(keyless.length === 0
      ? []
      : [
          {
            gravity: 'warning' as const,
            ...place,
            message: `${lampsNamed(keyless)} of the ${part.strategy.kind} never ${keyless.length === 1 ? 'lights' : 'light'}: the part takes ${taken(surveyed)}, and no other key. Change the keys, or "notes".`,
          },
        ]),
    ...unmapped(surveyed),
    ...refusals(surveyed),
    ...(unreached.length === 0
      ? []
      : [
          {
            gravity: 'note' as const,
            ...place,
            message: `${lampsNamed(unreached)} ${unreached.length === 1 ? 'is' : 'are'} listed, but no note of this ${part.strategy.kind} goes there.`,
          },
        ]),
  ]
}

/** Keys that the part's tuning has no pitch for, lamp by lamp where each has keys of its own. */
function unmapped(surveyed: SurveyedPart): CheckFinding[] {
  const { part, place, lamps } = surveyed
  const without = lamps.filter(({ figures }) => figures.noKey.length > 0)
  const mend = isOfSteps(surveyed) ? 'change those steps' : 'narrow the part\'s "notes"'
  const text = ({ figures: { noKey, keys } }: SurveyedLamp): string =>
    `the tuning has no pitch for ${noKey.length} of ${counted(keys, 'key')}, ${keySpans(noKey)}: they stay dark. Give them a degree in the map of tuning ${tuningOf(surveyed)}, or ${mend}.`
  return [...grouped(without, text)].slice(0, MOST_GROUPS).map(([message, group]): CheckFinding => ({
    gravity: hasChosenKeys(part) ? 'warning' : 'note',
    ...place,
    message:
      group.length === lamps.length ? message : `${lampsNamed(group.map(({ lamp }) => lamp.id))}: ${message}`,
  }))
}

function tuningOf({ song, part }: SurveyedPart): string {
  return part.tuning ?? song.tuning
}

function silent(surveyed: SurveyedPart): CheckFinding {
  const { place, lamps } = surveyed
  const keys = Math.max(0, ...lamps.map(({ figures }) => figures.keys))
  if (keys > 0 && lamps.every(({ figures }) => figures.noKey.length === figures.keys)) {
    const message = `no note of this part ever lights a lamp: tuning ${tuningOf(surveyed)} has no pitch for any of its ${counted(keys, 'key')}. Give them a degree in its map, or change "notes", "transpose" or the tuning.`
    return { gravity: 'fault', ...place, message }
  }
  const why = isOfSteps(surveyed)
    ? keys === 0
      ? 'no step of its patterns is on a lamp of it. Give its rows the lamps of the part, or steps'
      : `none of the ${counted(keys, 'key')} of its steps fits any of its lamps and what their outputs can make. Change the steps, or lowHz and highHz of the lamps`
    : keys === 0
      ? `it takes ${taken(surveyed)}, and the keys its lamps answer to are not among those. Change the keys, or "notes"`
      : `none of its ${counted(keys, 'key')} fits any of its lamps and what their outputs can make. Change lowHz and highHz of the lamps, or "notes" or "transpose"`
  return { gravity: 'fault', ...place, message: `no note of this part ever lights a lamp: ${why}.` }
}

function taken({ part: { notes, transpose } }: SurveyedPart): string {
  return `${keySpans([notes[0]])} to ${keySpans([notes[1]])}${transpose === 0 ? '' : `, moved by ${transpose}`}`
}

function refusals(surveyed: SurveyedPart): CheckFinding[] {
  const { place, lamps } = surveyed
  const refusing = lamps.filter(({ figures }) => figures.noOctave.length + figures.noRate.length > 0)
  const groups = [...grouped(refusing, (one) => refusalText(one, isOfSteps(surveyed)))]
  const told = groups.slice(0, MOST_GROUPS).map(([text, group]): CheckFinding => ({
    gravity: 'warning',
    ...place,
    message: `${lampsNamed(group.map(({ lamp }) => lamp.id))} cannot sound ${text}`,
  }))
  const others = groups.slice(MOST_GROUPS).flatMap(([, group]) => group)
  if (others.length === 0) return told
  const counts = others.map(({ figures }) => figures.noOctave.length + figures.noRate.length)
  const message =
    `${lampsNamed(others.map(({ lamp }) => lamp.id))} cannot sound some keys either: ` +
    `${Math.min(...counts)} to ${Math.max(...counts)} of them. They stay dark there.`
  return [...told, { gravity: 'warning', ...place, message }]
}

function refusalText({ lamp, output, figures, noteFloor }: SurveyedLamp, isOfSteps: boolean): string {
  const { noOctave, noRate, keys } = figures
  const refused = [...noOctave, ...noRate].sort((a, b) => a - b)
  const why = [
    ...(noOctave.length === 0
      ? []
      : [
          `no octave of ${noRate.length === 0 ? 'them' : `${noOctave.length} of them`} lies within ${figure(noteFloor)} to ${figure(lamp.highHz)} Hz, ` +
            (noteFloor > lamp.lowHz
              ? `which is what the flash guard leaves of its range: raise highHz, or have another guard`
              : 'a range of under an octave: widen lowHz and highHz'),
        ]),
    ...(noRate.length === 0
      ? []
      : [
          `output ${output.id} cannot make ${noOctave.length === 0 ? 'those rates' : `the rates of ${noRate.length} of them`}: move lowHz or highHz so that other octaves are taken`,
        ]),
  ]
  return `${refused.length} of its ${counted(keys, 'key')}, ${keySpans(refused)}, and would stay dark: ${why.join('; ')}, or ${isOfSteps ? 'change those steps' : 'narrow the part\'s "notes"'}.`
}

/** What it sounds is written in patterns, not played. */
function isOfSteps({ part }: SurveyedPart): boolean {
  return part.strategy.kind === 'steps'
}
