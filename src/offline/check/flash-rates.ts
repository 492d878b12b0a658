import { CONCERN_BAND, isOfConcern } from '../../domain/pulse-rate.ts'
import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { CheckFinding } from './finding.ts'
import { foldedWords } from './guarded.ts'
import { keySpans } from './key-spans.ts'
import { counted, figure, lampsNamed, listed } from './listed.ts'
import { soundsPitch } from './sounds-pitch.ts'
import type { Survey, SurveyedPart, SurveyedSong } from './survey.ts'

/**
 * Keys that make a lamp flash slowly enough to be seen: under 60 Hz, and among them those in the band of most concern,
 * 3 to 30 Hz (epilepsy charities, second-hand). WCAG 2.2, success criterion 2.3.1, allows three flashes in any one second.
 */
export function flashRateFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(songFinding)
}

function songFinding({ song, guard, parts }: SurveyedSong): CheckFinding[] {
  // By key: 0 not slow, 1 slow, 2 in the band of concern.
  const keys = new Uint8Array(128)
  const lamps = new Set<string>()
  const slowParts: SurveyedPart[] = []
  let isLeft = false
  let lowest = Infinity
  let highest = 0
  for (const part of parts.filter((one) => soundsPitch(one.part))) {
    const slow = part.lamps.filter(({ unguarded }) => unguarded.slow.length > 0)
    isLeft ||= part.lamps.some(({ figures }) => figures.slow.length > 0)
    if (slow.length > 0) slowParts.push(part)
    for (const { lamp, unguarded: figures } of slow) {
      lamps.add(lamp.id)
      for (const key of figures.slow) {
        const pitch = figures.table.pitch(key + figures.transpose)
        if (typeof pitch === 'string') continue
        lowest = Math.min(lowest, pitch.realHz)
        highest = Math.max(highest, pitch.realHz)
        if (keys[key] !== 2) keys[key] = isOfConcern(pitch.realHz) ? 2 : 1
      }
    }
  }
  if (slowParts.length === 0) return []
  const seen = Array.from({ length: 128 }, (_, key) => key).filter((key) => keys[key] !== 0)
  const concern = seen.filter((key) => keys[key] === 2)
  const rates =
    figure(lowest) === figure(highest) ? figure(lowest) : `${figure(lowest)} to ${figure(highest)}`
  const message =
    `${lampsNamed([...lamps])} ${isLeft ? (lamps.size === 1 ? 'flashes' : 'flash') : 'would flash'} slowly enough to be seen, at ${rates} Hz (under ${SEEN_STEADY_HZ}), ` +
    `on ${counted(seen.length, 'key')}: ${keySpans(seen)}. ` +
    (concern.length === 0
      ? ''
      : `${concern.length} of them at ${CONCERN_BAND[0]} to ${CONCERN_BAND[1]} Hz, the band of most concern (epilepsy charities, second-hand). `) +
    (isLeft
      ? `WCAG 2.2 SC 2.3.1 allows three flashes in any one second. A lowHz of ${SEEN_STEADY_HZ} moves these keys up by octaves, as a flash guard that folds does; narrower "notes" leave them out.`
      : `${foldedWords(guard)}: they sound higher than they are played, and where no octave fits the lamp stays dark.`)
  const ids = slowParts.map(({ part }) => part.id)
  const where = `song ${song.id}, ${ids.length === 1 ? 'part' : 'parts'} ${listed(ids)}`
  return [{ gravity: isLeft ? 'warning' : 'note', where, message, path: slowParts[0]?.place.path }]
}
