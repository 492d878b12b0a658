import { FLASHES_ALLOWED } from '../../domain/flash-guard.ts'
import type { Part, Song } from '../../domain/song.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'
import type { Pace } from '../../time/pace.ts'
import { paceMicros } from '../../time/pace.ts'
import { parseDuration } from '../../time/beats.ts'
import { WAYS, roundOf } from '../../strategies/travel-path.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'
import { canGlow } from './can-glow.ts'
import type { CheckFinding } from './finding.ts'
import { guardedPace } from './guarded.ts'
import { figure } from './listed.ts'
import { patternFlashes } from './pattern-flashes.ts'
import { pathOf } from './strategy-reach.ts'
import type { Survey, SurveyedPart } from './survey.ts'
import type { Gating } from './travel-gating.ts'
import { travelGating } from './travel-gating.ts'

const ALLOWED = FLASHES_ALLOWED
const RULE =
  'WCAG 2.2 SC 2.3.1 allows three flashes in any one second, and 3 to 30 a second is the band of most concern (epilepsy charities, second-hand).'

type Gate = (round: readonly number[], width: number, overlap: number) => Gating

/** Strategies that switch lamps more often than three times a second of themselves, at the song's tempo; and gaps. */
export function flashPaceFindings({ show, songs }: Survey): CheckFinding[] {
  const gate = createGate()
  return songs.flatMap(({ song, guard, parts }) => {
    const isKeptLit = canGlow(show, guard, parts)
    return parts.flatMap((surveyed) =>
      [
        ...travelFinding(song, surveyed, gate),
        ...canonFinding(song, surveyed),
        ...stepsFindings(song, surveyed),
        ...gapFinding(surveyed),
      ].map((finding) => {
        const { gravity, words } = guardedPace(guard, finding.gravity, isKeptLit)
        return { ...finding, gravity, message: finding.message + words }
      }),
    )
  })
}

function createGate(): Gate {
  const known = new Map<string, Gating>()
  return (round, width, overlap) => {
    const id = `${round.join()} ${width} ${overlap}`
    const gating = known.get(id) ?? travelGating(round, width, overlap)
    known.set(id, gating)
    return gating
  }
}

function travelFinding(song: Song, { part, place }: SurveyedPart, gate: Gate): CheckFinding[] {
  const { kind, move, width, overlapMs } = part.strategy
  const pace = paceOf(move)
  if (kind !== 'travel' || !pace) return []
  const micros = paceMicros(pace, song.tempo)
  const round = roundFor(part)
  if (round.length === 0) return []
  const gating = gate(round, Number(width ?? 1), (Number(overlapMs ?? 0) * 1000) / micros)
  const moves = MICROS_PER_SECOND / micros
  const lamp = (moves * gating.lamp) / round.length
  const field = (moves * gating.field) / round.length
  if (lamp <= ALLOWED && field <= ALLOWED) return []
  const about = part.strategy['path'] === 'shuffle' ? 'about ' : ''
  const message =
    `${tempoText(pace, song)}the voice moves ${figure(moves, 3)} times a second: a lamp goes on and off up to ${about}${figure(lamp, 3)} times a second, ` +
    `and some lamp of the field goes dark ${about}${figure(field, 3)} times a second. ${RULE} ` +
    'A longer move slows both; more lamps, or an overlap, spare the single lamp.'
  return [{ gravity: 'warning', ...place, message }]
}

/** One round of the part's way, as places in its list of lamps. */
function roundFor(part: Part): readonly number[] {
  const path = pathOf(part.strategy)
  if (path) return path.map((id) => part.lamps.findIndex((lamp) => lamp === id)).filter((index) => index >= 0)
  const way = WAYS.find((one) => one === part.strategy['path']) ?? 'forward'
  // A shuffled round has each lamp once, as a forward one does.
  return roundOf(way === 'shuffle' ? 'forward' : way, part.lamps.length)
}

function canonFinding(song: Song, { part, place }: SurveyedPart): CheckFinding[] {
  const { kind, delay, delayMs } = part.strategy
  const pace = paceOf(delayMs === undefined ? { every: delay } : { everyMs: delayMs })
  if (kind !== 'canon' || !pace) return []
  const micros = paceMicros(pace, song.tempo)
  // Without a delay all lamps go together, which is one flash and the player's own.
  if (micros === 0) return []
  const field = Math.min(part.lamps.length, MICROS_PER_SECOND / micros)
  if (field <= ALLOWED) return []
  const message =
    `${tempoText(pace, song)}one short note goes over ${part.lamps.length} lamps, one every ${figure(micros / 1000, 3)} ms: up to ${figure(field, 3)} flashes ` +
    `a second in the field, besides what is played. ${RULE} A longer delay slows it.`
  return [{ gravity: 'warning', ...place, message }]
}

function stepsFindings(song: Song, { part, place }: SurveyedPart): CheckFinding[] {
  if (part.strategy.kind !== 'steps') return []
  return patternsPlayed(song, part.strategy).flatMap((pattern): CheckFinding[] => {
    // What hits move is the player's own pace.
    if (pattern.advance === 'hit') return []
    const pace = { every: pattern.division }
    const { lamp, field } = patternFlashes(pattern, paceMicros(pace, song.tempo))
    if (lamp <= ALLOWED && field <= ALLOWED) return []
    const message =
      `${tempoText(pace, song)}pattern ${pattern.id}, a step every ${pattern.division}, darkens a lamp up to ${lamp} times in a second, ` +
      `and some lamp of the field up to ${field} times${pattern.advance === 'both' ? ', besides what hits do' : ''}. ${RULE} ` +
      'A longer division slows both; steps that sound until the next one of their row spare the darkness between.'
    return [{ gravity: 'warning', ...place, message }]
  })
}

function gapFinding({ part: { gapMs }, place }: SurveyedPart): CheckFinding[] {
  if (gapMs === 0) return []
  const message = `a lamp struck again while lit is dark for ${figure(gapMs)} ms first: a flash for each repeated note, as fast as it is played. ${RULE}`
  return [{ gravity: 'note', ...place, message }]
}

/** A pace as the options give it; undefined for a voice that moves with the notes. */
function paceOf(value: unknown): Pace | undefined {
  if (typeof value !== 'object' || value === null) return undefined
  const { every, everyMs } = value as { every?: unknown; everyMs?: unknown }
  if (typeof everyMs === 'number') return { everyMs }
  return typeof every === 'string' && parseDuration(every) !== undefined ? { every } : undefined
}

function tempoText(pace: Pace, { tempo }: Song): string {
  return 'every' in pace ? `at ${tempo} beats a minute ` : ''
}
