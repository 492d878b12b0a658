import type { Pattern } from '../../domain/pattern.ts'
import type { Part, Song } from '../../domain/song.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'
import type { CheckFinding } from './finding.ts'
import { keyName, keySpans } from './key-spans.ts'
import { lampsNamed, listed } from './listed.ts'
import type { Survey, SurveyedPart } from './survey.ts'

/** Patterns that nobody comes to, rows that stay dark, and pads that are never heard. */
export function patternFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ song, parts }, index) => [
    ...unused(song, index),
    ...parts.flatMap((surveyed) => {
      const { part } = surveyed
      if (part.strategy.kind !== 'steps') return []
      return patternsPlayed(song, part.strategy).flatMap((pattern) => [
        ...darkRows(surveyed, pattern),
        ...deafPads(surveyed, pattern),
      ])
    }),
  ])
}

function unused(song: Song, index: number): CheckFinding[] {
  const played = new Set(song.parts.flatMap((part) => (isOfSteps(part) ? playedBy(song, part) : [])))
  return song.patterns.flatMap((pattern, at): CheckFinding[] => {
    if (played.has(pattern)) return []
    const message = `pattern ${pattern.id} is played by no part: none begins with it, and no "next-pattern" pad leads there.`
    return [
      {
        gravity: 'warning',
        where: `song ${song.id}, pattern ${pattern.id}`,
        path: ['songs', index, 'patterns', at],
        message,
      },
    ]
  })
}

function isOfSteps({ strategy }: Part): boolean {
  return strategy.kind === 'steps'
}

function playedBy(song: Song, { strategy }: Part): readonly Pattern[] {
  return patternsPlayed(song, strategy)
}

function darkRows({ part, place }: SurveyedPart, { id, rows, pads }: Pattern): CheckFinding[] {
  const named = [...rows, ...pads].flatMap((one) => ('lamp' in one ? [one.lamp] : []))
  const strange = [...new Set(named)].filter((lamp) => !part.lamps.includes(lamp))
  if (strange.length === 0) return []
  const message = `pattern ${id} has steps for ${lampsNamed(strange)}, which this part has not got: they stay dark. Give the part ${strange.length === 1 ? 'that lamp' : 'those lamps'}, or the rows others.`
  return [{ gravity: 'warning', ...place, message }]
}

function deafPads({ part, place }: SurveyedPart, { id, pads }: Pattern): CheckFinding[] {
  const [low, high] = part.notes
  const outside = pads.map(({ key }) => key).filter((key) => key < low || key > high)
  if (outside.length === 0) return []
  const keys = listed(outside.map(keyName))
  const message = `pattern ${id} has pads on ${keys}, and this part takes only ${keySpans([low])} to ${keySpans([high])}: they do nothing. Widen its "notes".`
  return [{ gravity: 'warning', ...place, message }]
}
