import type { Glide, Pulse, Vibrato, Wander } from '../../domain/part-motion.ts'
import { CONCERN_BAND, flashesPerSecond, isOfConcern } from '../../domain/pulse-rate.ts'
import type { Part } from '../../domain/song.ts'
import type { Bpm } from '../../domain/units.ts'
import { figure } from '../check/listed.ts'

/** What a part's lamps do with the pitch of its notes; "as played" where nothing out of the usual. */
export function pitchWords({ tuning, glide, vibrato, pulse }: Part, tempo: Bpm): string {
  const said = [
    ...(tuning === undefined ? [] : [`in the tuning ${tuning}`]),
    ...(glide ? [glideWords(glide)] : []),
    ...(vibrato ? [vibratoWords(vibrato)] : []),
    ...(pulse ? [pulseWords(pulse, tempo)] : []),
  ]
  return said.length === 0 ? 'as played' : said.join('; ')
}

export function glideWords(glide: Glide): string {
  const way = 'ms' in glide ? `in ${glide.ms} ms` : `at ${glide.centsPerSecond} cents a second`
  return `glides ${way}, ${glide.when === 'legato' ? 'to legato notes' : 'to every note from the last'}`
}

export function vibratoWords({ cents, hz, delayMs, controller }: Vibrato): string {
  return [
    `wavers ${cents} cents either way, ${hz} times a second`,
    ...(delayMs === 0 ? [] : [`${delayMs} ms after the strike`]),
    ...(controller === undefined ? [] : [`as much as controller ${controller} says`]),
  ].join(', ')
}

/** With what it comes to at the song's tempo, and a caution where that is of most concern. */
export function pulseWords(pulse: Pulse, tempo: Bpm): string {
  const hz = flashesPerSecond(pulse, tempo)
  const rate = 'bpm' in pulse ? `${pulse.bpm} flashes a minute` : `${pulse.ratio}, flashes to beats`
  const [low, high] = CONCERN_BAND
  return [
    `flashes as a pulse, ${rate}: ${figure(hz)} Hz`,
    ...(pulse.controller === undefined
      ? []
      : [`controller ${pulse.controller} takes it to the pitch of its notes`]),
    ...(isOfConcern(hz) || (pulse.controller !== undefined && hz < high)
      ? [`caution: ${low} to ${high} Hz is the band of most concern for photosensitive people`]
      : []),
  ].join('; ')
}

export function wanderWords({ cents, seconds }: Wander): string {
  return `each lamp by itself, ${cents} cents either way at most, another way every ${seconds} s`
}
