import type { LampIndex, PartIndex, PartId, PlayerId } from '../domain/ids.ts'
import type { Voice } from '../domain/intent.ts'
import type { Lit } from '../domain/lamp-state.ts'
import type { Glide, Pulse, Vibrato, Wander } from '../domain/part-motion.ts'
import { shiftByCents } from '../domain/pitch.ts'
import { flashesPerSecond } from '../domain/pulse-rate.ts'
import type { Lamp, Output } from '../domain/rig.ts'
import type { DutySource } from '../domain/song.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import type { Bpm, Cents, Duty, Hz, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { foldIntoRange } from './fold.ts'
import type { Gliding } from './motion.ts'
import { glideCents, isGliding, sweepPlace, vibratoCents, wanderCents } from './motion.ts'
import { betweenPulseAndPitch, LOCKED_BELOW } from './pulse.ts'
import type { Quantised } from './quantise.ts'
import { quantise } from './quantise.ts'
import type { Fold } from './unseen.ts'
import { noteFloor, mayFlashAt } from './unseen.ts'

/** What a part's voices have in common. */
export interface ResolvePart {
  readonly id: PartId
  readonly player: PlayerId
  readonly lamps: readonly LampIndex[]
  readonly tuning: KeyTuning
  readonly duty: Duty
  /** Where duty goes by keys or by a sweep. */
  readonly dutyBy?: DutySource | undefined
  /** Keys that voices are above what was played. */
  readonly transpose?: number | undefined
  readonly gap: Micros
  readonly glide?: Glide | undefined
  readonly vibrato?: Vibrato | undefined
  readonly pulse?: Pulse | undefined
}

export interface LampPlace {
  readonly lamp: Lamp
  readonly output: Output
}

/** What a lamp was last asked to sound. */
export interface Sounding {
  readonly part: PartIndex
  readonly voice: Voice
  /** What the tuning gave the voice as it came, its ratio included. */
  readonly base: Hz
  readonly struckAt: Micros
  readonly gliding: Gliding | null
}

/** What the voices of a part go by at this time. */
export interface PartNow {
  readonly part: ResolvePart
  readonly bend: Cents
  /** By controller. */
  readonly duty: Duty
  readonly vibrato: number
  readonly pitched: number
  readonly wander: Wander | undefined
  /** Since the song's first light. */
  readonly since: Micros
  readonly tempo: Bpm
  /** What the song's flash guard moves. */
  readonly fold?: Fold | undefined
}

/** Under it a change of pitch or duty is nothing. */
const STILL = 1e-9

/** The voice's own pitch on that lamp: bends and trims, folded into its range, nothing that moves by itself. Undefined where no octave of it fits. */
export function steadyHz(
  { voice, base }: Pick<Sounding, 'voice' | 'base'>,
  { lamp }: LampPlace,
  { bend, fold }: Pick<PartNow, 'bend' | 'fold'>,
): Hz | undefined {
  const asked = shiftByCents(base, voice.cents + bend + lamp.trimCents)
  return foldIntoRange(asked, noteFloor(lamp.lowHz, fold), lamp.highHz)?.hz
}

/** What the lamp shall do now; undefined where it cannot. `legato`: the key it sounds by MIDI, which a bend may keep. `flash`: the pulse's flash that begins now. */
export function lightOf(
  sounding: Sounding,
  index: LampIndex,
  place: LampPlace,
  by: PartNow,
  now: Micros,
  strike: boolean,
  legato: number | undefined,
  flash?: number,
): Lit | undefined {
  const { lamp } = place
  const { part } = by
  const { voice } = sounding
  const asked = wantedHz(sounding, index, place, by, now)
  if (asked === undefined) return undefined
  const duty = dutyOf(voice, lamp, by)
  const { hz, made } =
    flash === undefined ? unseen(asked, place, by, legato) : { hz: asked, made: oneFlash(asked, duty, place) }
  if (!made) return undefined
  return {
    on: true,
    part: part.id,
    player: part.player,
    note: voice.note,
    key: voice.key,
    velocity: voice.velocity,
    hz,
    realHz: made.realHz,
    cents: made.cents,
    duty,
    drive: made.drive,
    strike,
    ...(flash === undefined ? {} : { flash }),
  }
}

/** What is asked of the lamp at this time, before its output rounds it and a guard moves a pulse; undefined where no octave fits. */
export function wantedHz(
  sounding: Sounding,
  index: LampIndex,
  place: LampPlace,
  by: PartNow,
  now: Micros,
): Hz | undefined {
  const steady = steadyHz(sounding, place, by)
  return steady === undefined ? undefined : movedHz(steady, sounding, index, place, by, now)
}

/** As asked, or by octaves up to where the flash guard lets the output flash. */
function unseen(
  asked: Hz,
  { lamp, output }: LampPlace,
  { part, fold }: PartNow,
  legato: number | undefined,
): { readonly hz: Hz; readonly made: Quantised | undefined } {
  let hz = asked
  let made = quantise(hz, output, lamp.slot, legato)
  // By what the output makes of it: a coarse bend may come out lower than it was asked.
  while (made && !mayFlashAt(made.realHz, part.pulse !== undefined, fold)) {
    hz *= 2
    made = hz > lamp.highHz ? undefined : quantise(hz, output, lamp.slot, legato)
  }
  return { hz, made }
}

/**
 * A single flash: each is begun by us, so its timer is given a period twice as long, where it has one, and as long an on part. It then never begins one by itself while
 * beats slow down, or where its clock is fast. How often it flashes is up to us, and exact.
 */
function oneFlash(hz: Hz, duty: Duty, { lamp, output }: LampPlace): Quantised | undefined {
  // A MIDI lamp goes on flashing at the rate of its key.
  if (output.kind === 'midi') return quantise(hz, output, lamp.slot)
  const made = quantise(hz / 2, output, lamp.slot) ?? quantise(hz, output, lamp.slot)
  if (made?.drive.kind !== 'timer') return made
  return { drive: { ...made.drive, duty: (duty * made.realHz) / hz }, realHz: hz, cents: 0 }
}

/** The rate that the voice has on the lamp where nothing moves by itself, before the output rounds it; undefined where no octave of it fits. */
export function restingHz(sounding: Sounding, place: LampPlace, by: PartNow): Hz | undefined {
  const steady = steadyHz(sounding, place, by)
  return steady === undefined ? undefined : pulsedHz(steady, place, by)
}

function movedHz(
  steady: Hz,
  sounding: Sounding,
  index: LampIndex,
  place: LampPlace,
  by: PartNow,
  now: Micros,
): Hz {
  const { lamp } = place
  const { part, vibrato, wander, since, fold } = by
  const cents =
    glideCents(sounding.gliding, now) +
    (part.vibrato ? vibratoCents(part.vibrato, vibrato, sounding.struckAt, now) : 0) +
    (wander ? wanderCents(wander, index, since) : 0)
  // What moves does not change octaves on its way: it ends where the lamp does.
  const moved =
    cents === 0 ? steady : within(shiftByCents(steady, cents), noteFloor(lamp.lowHz, fold), lamp.highHz)
  return pulsedHz(moved, place, by)
}

function pulsedHz(hz: Hz, { lamp }: LampPlace, { part, pitched, tempo }: PartNow): Hz {
  if (!part.pulse) return hz
  return Math.min(lamp.highHz, betweenPulseAndPitch(flashesPerSecond(part.pulse, tempo), hz, pitched))
}

export function dutyOf({ duty, key }: Voice, { minDuty, maxDuty }: Lamp, by: PartNow): Duty {
  return within(duty ?? partDuty(by, key), minDuty, maxDuty)
}

function partDuty({ part, duty, since }: PartNow, key: number): Duty {
  const { dutyBy, transpose = 0 } = part
  if (dutyBy?.keys) {
    const [low, high] = dutyBy.keys
    const place = high > low ? within((key - transpose - low) / (high - low), 0, 1) : 1
    return dutyBy.low + (dutyBy.high - dutyBy.low) * place
  }
  if (dutyBy?.sweepSeconds === undefined) return duty
  const span = Math.round(dutyBy.sweepSeconds * MICROS_PER_SECOND)
  return dutyBy.low + (dutyBy.high - dutyBy.low) * sweepPlace(since, span)
}

/** Whether its pitch or duty goes on changing by itself: quickly, slowly, or not at all. */
export function motionOf(
  { gliding, voice }: Sounding,
  { part, vibrato, pitched, wander }: PartNow,
  now: Micros,
): 'quick' | 'slow' | undefined {
  if (!part.pulse || pitched > 0) {
    if (isGliding(gliding, now)) return 'quick'
    if (part.vibrato && part.vibrato.cents * vibrato > STILL) return 'quick'
    if (wander && wander.cents > STILL) return 'slow'
  }
  return part.dutyBy?.sweepSeconds !== undefined && voice.duty === undefined ? 'slow' : undefined
}

/** Whether the part's lamps flash one flash at a time, each begun by us. */
export function isLocked({ part, pitched, tempo, fold }: PartNow): boolean {
  if (part.pulse === undefined || pitched > 0) return false
  const hz = flashesPerSecond(part.pulse, tempo)
  return hz < LOCKED_BELOW && mayFlashAt(hz, true, fold)
}

function within(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value))
}
