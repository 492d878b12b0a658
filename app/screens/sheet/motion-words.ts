import type { Glide, Pulse, Vibrato, Wander } from '../../../src/domain/part-motion.ts'
import { CONCERN_BAND, flashesPerSecond, isOfConcern } from '../../../src/domain/pulse-rate.ts'
import type { Bpm, Hz } from '../../../src/domain/units.ts'

/** What a part does with its pitch that is not usual, each in a few words: "glides 90 ms between legato notes". */
export function motionWords({
  tuning,
  glide,
  vibrato,
  pulse,
}: {
  readonly tuning?: string | undefined
  readonly glide?: Glide | undefined
  readonly vibrato?: Vibrato | undefined
  readonly pulse?: Pulse | undefined
}): string[] {
  return [
    ...(tuning === undefined ? [] : [`tuning ${tuning}`]),
    ...(glide ? [glideWords(glide)] : []),
    ...(vibrato ? [vibratoWords(vibrato)] : []),
    ...(pulse ? [pulseWords(pulse)] : []),
  ]
}

export function glideWords(glide: Glide): string {
  const way = 'ms' in glide ? `${glide.ms} ms` : `${glide.centsPerSecond} cents a second`
  return `glides ${way} ${glide.when === 'legato' ? 'between legato notes' : 'into every note'}`
}

export function vibratoWords({ cents, hz, delayMs, controller }: Vibrato): string {
  const delay = delayMs === 0 ? '' : `, ${delayMs} ms after the strike`
  const by = controller === undefined ? '' : `, by controller ${controller}`
  return `vibrato ${cents} cents at ${hz} Hz${delay}${by}`
}

export function pulseWords(pulse: Pulse): string {
  const rate = 'bpm' in pulse ? `${pulse.bpm} flashes a minute` : `${pulse.ratio} flashes to beats`
  return `pulse ${rate}${pulse.controller === undefined ? '' : `, to pitch by controller ${pulse.controller}`}`
}

export function wanderWords({ cents, seconds }: Wander): string {
  return `lamps drift ${cents} cents either way, another way every ${seconds} s`
}

/** "145.5938 flashes a minute, 2.43 Hz" */
export function rateWords(hz: Hz): string {
  return `${Number((hz * 60).toFixed(4))} flashes a minute, ${figure(hz)} Hz`
}

/** What a pulse comes to at that tempo, and where that lies to the rates of most concern. Never that it is harmless. */
export function pulseCaution(pulse: Pulse, tempo: Bpm): string {
  const hz = flashesPerSecond(pulse, tempo)
  const [low, high] = CONCERN_BAND
  const comes =
    'bpm' in pulse
      ? `It flashes ${figure(hz)} times a second (Hz).`
      : `At ${tempo} beats a minute that is ${rateWords(hz)}.`
  const place = isOfConcern(hz)
    ? `That is within the band of most concern for photosensitive people, ${low} to ${high} Hz: it can trigger seizures.`
    : hz < low
      ? `The band of most concern for photosensitive people is ${low} to ${high} Hz; lamps that flash in turn are seen as faster than each of them${'bpm' in pulse ? '' : ', and a tapped or followed tempo may be faster'}.`
      : `The band of most concern for photosensitive people is ${low} to ${high} Hz; some react to flashes up to 60 Hz.`
  const way =
    pulse.controller === undefined || hz > high
      ? ''
      : ' On the way from pulse to pitch the controller goes through that band.'
  return `${comes} ${place}${way}`
}

/** Up to four figures. */
function figure(value: number): string {
  return String(Number(value.toPrecision(4)))
}
