import type { Part, Song } from '../../domain/song.ts'
import type { Duty } from '../../domain/units.ts'
import type { Output } from '../../domain/rig.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'
import type { CheckFinding } from './finding.ts'
import { grouped } from './grouped.ts'
import { figure, lampsNamed } from './listed.ts'
import type { Survey, SurveyedLamp, SurveyedPart } from './survey.ts'

/** Duties outside what lamps may have, and duty that moves where no output carries it. */
export function dutyFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ parts }) => parts.flatMap((part) => [...trimmed(part), ...unsent(part)]))
}

function trimmed({ song, part, place, lamps }: SurveyedPart): CheckFinding[] {
  const duties = [...dutiesOf(part), ...stepDuties(song, part)]
  return [...grouped(lamps, (one) => trimText(one, duties))].flatMap(([text, group]) =>
    text === '' ? [] : [{ gravity: 'note', ...place, message: `${names(group)}: ${text}` }],
  )
}

function trimText({ lamp: { minDuty, maxDuty } }: SurveyedLamp, duties: readonly [string, Duty][]): string {
  const outside = duties.filter(([, duty]) => duty < minDuty || duty > maxDuty)
  if (outside.length === 0) return ''
  const changes = outside.map(
    ([name, duty]) => `${name} ${figure(duty)} becomes ${figure(Math.min(maxDuty, Math.max(minDuty, duty)))}`,
  )
  return `duty is kept within ${figure(minDuty)} to ${figure(maxDuty)} (minDuty, maxDuty): ${changes.join(', ')}.`
}

/** The ends of what a part's duty can be, by the name they have in the show. */
function dutiesOf({
  duty: { base, low, high, controller, velocity, keys, sweepSeconds },
}: Part): readonly [string, Duty][] {
  const moving: readonly [string, Duty][] = [
    ['low', low],
    ['high', high],
  ]
  if (velocity || keys || sweepSeconds !== undefined) return moving
  return controller === undefined ? [['base', base]] : [['base', base], ...moving]
}

/** The least and the most that steps ask for themselves, accents aside. */
function stepDuties(song: Song, { strategy }: Part): readonly [string, Duty][] {
  if (strategy.kind !== 'steps') return []
  const duties = patternsPlayed(song, strategy).flatMap(({ rows, pads }) => [
    ...rows.flatMap(({ steps }) => steps.flatMap((step) => (step === 0 ? [] : (step.duty ?? [])))),
    ...pads.flatMap((pad) => (pad.do === 'note' ? (pad.duty ?? []) : [])),
  ])
  const ends = [...new Set([Math.min(...duties), Math.max(...duties)])]
  return duties.length === 0 ? [] : ends.map((duty) => ['a step with', duty])
}

function unsent({ part, place, lamps }: SurveyedPart): CheckFinding[] {
  const by = moverOf(part)
  if (by === undefined) return []
  const deaf = lamps.filter(({ output }) => !carriesDuty(output))
  if (deaf.length === 0) return []
  const message = `${names(deaf)}: duty is not sent there, so ${by} changes nothing. Give the output a dutyController (not on note-per-lamp).`
  return [{ gravity: 'note', ...place, message }]
}

/** What moves a part's duty, in words. */
function moverOf({ duty: { controller, velocity, keys, sweepSeconds } }: Part): string | undefined {
  if (velocity) return 'velocity'
  if (keys) return 'the key'
  if (sweepSeconds !== undefined) return 'the sweep'
  return controller === undefined ? undefined : 'the controller'
}

function carriesDuty(output: Output): boolean {
  return (
    output.kind === 'serial' || (output.layout !== 'note-per-lamp' && output.dutyController !== undefined)
  )
}

function names(lamps: readonly SurveyedLamp[]): string {
  return lampsNamed(lamps.map(({ lamp }) => lamp.id))
}
