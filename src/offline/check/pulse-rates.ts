import { CONCERN_BAND, flashesPerSecond, isOfConcern } from '../../domain/pulse-rate.ts'
import type { Output } from '../../domain/rig.ts'
import type { Song } from '../../domain/song.ts'
import type { Pulse } from '../../domain/part-motion.ts'
import type { Hz } from '../../domain/units.ts'
import { LOCKED_BELOW } from '../../tuning/pulse.ts'
import { quantise } from '../../tuning/quantise.ts'
import { lowestHz } from '../../tuning/lowest-hz.ts'
import { foldOf } from '../../tuning/unseen.ts'
import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { CheckFinding } from './finding.ts'
import { pulseUnder } from './guarded.ts'
import { grouped } from './grouped.ts'
import { figure, lampsNamed, listed } from './listed.ts'
import { midiKeyToHz } from '../../domain/pitch.ts'
import type { Survey, SurveyedLamp, SurveyedPart, SurveyedSong } from './survey.ts'

/** Flashes allowed in any one second: WCAG 2.2, success criterion 2.3.1. */
const ALLOWED = 3
const RULE = `WCAG 2.2 SC 2.3.1 allows three flashes in any one second, and ${CONCERN_BAND[0]} to ${CONCERN_BAND[1]} a second is the band of most concern (epilepsy charities, second-hand).`

/** How fast the pulses of parts flash at their songs' tempos, and lamps whose outputs cannot go as low. */
export function pulseRateFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap((surveyed) => [
    ...surveyed.parts.flatMap((part) => [...rateFinding(part), ...outputFindings(part)]),
    ...togetherFinding(surveyed),
  ])
}

function rateFinding({ song, guard, part, place, lamps }: SurveyedPart): CheckFinding[] {
  const { pulse } = part
  if (!pulse || lamps.length === 0) return []
  const hz = flashesPerSecond(pulse, song.tempo)
  const moved = pulseUnder(guard, hz)
  if (moved !== hz) return [toneFinding({ pulse, song, place, guard, lamps, moved })]
  const isUnseen = foldOf(guard) !== undefined
  const sweep =
    pulse.controller === undefined
      ? ''
      : isUnseen
        ? ` Controller ${pulse.controller} takes it from there to the pitch; what the flash guard (${guard.action}) does not let flash between is moved up by octaves.`
        : ` Controller ${pulse.controller} takes it from there to the pitch, through every rate between.`
  if (hz >= SEEN_STEADY_HZ && sweep === '') return []
  const seen =
    hz >= SEEN_STEADY_HZ
      ? ''
      : isOfConcern(hz)
        ? ', in the band of most concern'
        : `, slowly enough to be seen (under ${SEEN_STEADY_HZ})`
  const moves = 'ratio' in pulse ? ' Another tempo, tapped or followed, moves it in step.' : ''
  const free =
    hz >= LOCKED_BELOW && 'ratio' in pulse
      ? ` From ${LOCKED_BELOW} a second on the rate is right, but flashes do not fall on the beat.`
      : ''
  const message = `${rateText(pulse, song)}${seen}.${sweep}${moves}${free} ${RULE}`
  const isGrave = (hz >= ALLOWED && hz < SEEN_STEADY_HZ) || (sweep !== '' && !isUnseen)
  return [{ gravity: isGrave ? 'warning' : 'note', ...place, message }]
}

/** The flash guard leaves no such rate: the pulse is a tone. */
function toneFinding({ pulse, song, place, guard, lamps, moved }: Tone): CheckFinding {
  const dark = lamps.filter(({ lamp }) => lamp.highHz < moved)
  const rest =
    dark.length === 0
      ? ''
      : ` ${names(dark)} cannot go as high, and ${dark.length === 1 ? 'stays' : 'stay'} dark.`
  const message = `${rateText(pulse, song)}, and the flash guard (${guard.action}) moves it up by octaves to ${figure(moved)} Hz: a tone, and no pulse.${rest} Another guard for this song, or a pulse ${guard.action === 'limit' ? 'left out' : 'slower than 3 a second'}, mends it.`
  return { gravity: 'warning', ...place, message }
}

interface Tone extends Pick<SurveyedPart, 'song' | 'place' | 'guard' | 'lamps'> {
  readonly pulse: Pulse
  readonly moved: Hz
}

/** Several pulses of a song: their flashes come at different times, and together are more. */
function togetherFinding({ song, guard, place, parts }: SurveyedSong): CheckFinding[] {
  const pulsing = parts.flatMap(({ part, lamps }) =>
    part.pulse && lamps.length > 0
      ? [{ id: part.id, hz: pulseUnder(guard, flashesPerSecond(part.pulse, song.tempo)) }]
      : [],
  )
  const slow = pulsing.filter(({ hz }) => hz < SEEN_STEADY_HZ)
  const rates = [...new Set(slow.map(({ hz }) => hz))]
  const sum = rates.reduce((all, hz) => all + hz, 0)
  if (rates.length < 2 || sum <= ALLOWED) return []
  const message = `the pulses of parts ${listed(slow.map(({ id }) => id))} flash at different times, together up to ${figure(sum)} times a second. ${RULE}`
  return [{ gravity: 'warning', ...place, message }]
}

function outputFindings({ song, guard, part, place, lamps }: SurveyedPart): CheckFinding[] {
  const { pulse } = part
  if (!pulse) return []
  const hz = flashesPerSecond(pulse, song.tempo)
  // What is moved is told as such.
  if (pulseUnder(guard, hz) !== hz) return []
  const found = [...grouped(lamps, ({ output }) => output)].flatMap(([output, group]): CheckFinding[] => {
    const cannot = group.filter(
      ({ lamp }) => quantise(Math.min(hz, lamp.highHz), output, lamp.slot) === undefined,
    )
    if (cannot.length > 0)
      return [{ gravity: 'warning', ...place, message: cannotText(pulse, song, output, cannot) }]
    return midiFinding(pulse, hz, output, group).map((one) => ({ ...one, ...place }))
  })
  return found
}

function cannotText(pulse: Pulse, song: Song, output: Output, lamps: readonly SurveyedLamp[]): string {
  const start = `${names(lamps)}: ${rateText(pulse, song)}, and output ${output.id} `
  const end = 'Notes of this part are refused there, and stay dark.'
  const hz = flashesPerSecond(pulse, song.tempo)
  const lowest = lowestHz(output)
  if (hz >= lowest) return `${start}cannot make that rate. ${end}`
  if (output.kind === 'serial')
    return `${start}goes no lower than ${figure(lowest)} Hz (clockHz / the largest prescaler / 2^bits). ${end} A coarser prescaler or a faster pulse mends it.`
  const range = Math.ceil(12 * Math.log2(midiKeyToHz(0) / hz))
  const mend =
    range <= 96
      ? `A bendRange of ${range} reaches it, in coarser steps; or a faster pulse mends it.`
      : 'No bend reaches it; a faster pulse mends it.'
  return `${start}goes no lower than ${figure(lowest)} Hz, which is key 0 bent down by ${output.bendRange} semitones. ${end} ${mend}`
}

function midiFinding(
  pulse: Pulse,
  hz: Hz,
  output: Output,
  lamps: readonly SurveyedLamp[],
): { readonly gravity: CheckFinding['gravity']; readonly message: string }[] {
  if (output.kind !== 'midi') return []
  if (output.layout === 'note-per-lamp') {
    const message = `${names(lamps)}: on output ${output.id} a lamp is one fixed key, and flashes at that whatever its pulse.`
    return [{ gravity: 'warning', message }]
  }
  if (hz >= LOCKED_BELOW || !('ratio' in pulse)) return []
  const message = `${names(lamps)}: output ${output.id} tells a rate and no more, so flashes there come as often as the pulse says but not on the beat.`
  return [{ gravity: 'note', message }]
}

/** "pulse 3:2 is 3 flashes a second at 120 beats a minute" */
function rateText(pulse: Pulse, song: Song): string {
  const rate = figure(flashesPerSecond(pulse, song.tempo))
  return 'ratio' in pulse
    ? `pulse ${pulse.ratio} is ${rate} flashes a second at ${song.tempo} beats a minute`
    : `a pulse of ${pulse.bpm} a minute is ${rate} flashes a second`
}

function names(lamps: readonly SurveyedLamp[]): string {
  return lampsNamed(lamps.map(({ lamp }) => lamp.id))
}
