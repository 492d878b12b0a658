import type { LampIndex, PartIndex } from '../domain/ids.ts'
import type { Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { FlashGrid } from './pulse.ts'
import { BEGUN_ANEW_BELOW, flashGrid, nextFlash } from './pulse.ts'
import type { ResolveState, Work } from './resolve-state.ts'
import type { PartNow } from './voice-light.ts'
import { isLocked, motionOf, restingHz } from './voice-light.ts'

/** What drifts slowly need not be told more often. */
const SLOW_EVERY: Micros = 50_000

/** What the voices of a part go by at `now`; undefined: there is no such part. */
export function partNow(
  { config, bends, duties, vibratos, pitched, time, since }: ResolveState,
  index: PartIndex,
  channel: number,
  now: Micros,
): PartNow | undefined {
  const part = config.parts[index]
  if (!part) return undefined
  return {
    part,
    bend: bends[index]?.[channel - 1] ?? 0,
    duty: duties[index] ?? part.duty,
    vibrato: vibratos[index] ?? 1,
    pitched: pitched[index] ?? 0,
    wander: config.wander,
    since: since === null ? 0 : now - since,
    tempo: time.tempo,
    fold: config.fold,
  }
}

/** What the part's lamps are told flash by flash by; undefined: they go on by themselves, faster than that, or while beats stand still. */
export function gridOf({ time, since }: ResolveState, by: PartNow, now: Micros): FlashGrid | undefined {
  const { pulse } = by.part
  if (!pulse || !isLocked(by)) return undefined
  const grid = flashGrid(pulse, time.clock, since ?? now)
  return grid.clock.tempo > 0 ? grid : undefined
}

/** Whether a sounding lamp is to be told now what has become of it. */
export function isDue(state: ResolveState, work: Work, lamp: LampIndex, now: Micros): boolean {
  const at = dueAt(state, work, lamp, now)
  return at !== undefined && at <= now
}

/** When a lamp is next to be told something, a flash or what has become of it; undefined: nothing moves by itself. */
export function nextWake(state: ResolveState, now: Micros): Micros | undefined {
  let wake = Infinity
  state.lamps.forEach((work, lamp) => {
    if (!work) return
    const due = dueAt(state, work, lamp, now)
    if (due !== undefined) wake = Math.min(wake, Math.max(due, now + 1))
    if (!state.config.parts[work.part]?.pulse) return
    const by = partNow(state, work.part, work.voice.channel, now)
    const grid = by && gridOf(state, by, now)
    if (grid) wake = Math.min(wake, nextFlash(grid, now + 1).at)
  })
  return wake === Infinity ? undefined : wake
}

/** When a lamp is next told what has become of it; undefined: nothing does, or it is told with its flash. */
function dueAt(state: ResolveState, work: Work, lamp: LampIndex, now: Micros): Micros | undefined {
  const pace = state.paces[state.config.lamps[lamp]?.output.id ?? '']
  if (!pace) return undefined
  if (work.isWaiting) return isLeftWaiting(state, work, now) ? pace.at + pace.every : undefined
  if (!work.lit || !(work.isStale || moves(state, work.part))) return undefined
  const by = partNow(state, work.part, work.voice.channel, now)
  // One that comes down from a pitch is a pulse at once, and on the beat with its next flash.
  if (!by || (work.lit.flash !== undefined && gridOf(state, by, now))) return undefined
  const whole = wholeFlash(state, work, lamp, by)
  if (work.isStale) return Math.max(whole, pace.at + pace.every)
  // By when it was last told, so that a glide that has ended since is told once more, and ends on its pitch.
  const motion = motionOf(work, by, work.toldAt)
  if (motion === undefined) return undefined
  const every = motion === 'quick' ? pace.every : Math.max(pace.every, SLOW_EVERY)
  return Math.max(whole, Math.max(pace.at, work.toldAt) + every)
}

/** It was to begin with a flash, and its part is told none any more: it flashes by itself. */
function isLeftWaiting(state: ResolveState, { part, voice }: Work, now: Micros): boolean {
  const by = partNow(state, part, voice.channel, now)
  return by !== undefined && !gridOf(state, by, now)
}

/**
 * When the flash that a lamp was last told is whole, by the rate that its control has come to: a slow one is begun anew by what comes before, and by many of those never ends. By
 * nothing that moves with time, so that it does not matter when it is asked.
 */
function wholeFlash({ config }: ResolveState, work: Work, lamp: LampIndex, by: PartNow): Micros {
  const place = config.lamps[lamp]
  if (!place || work.lit?.drive.kind !== 'timer' || work.lit.realHz >= BEGUN_ANEW_BELOW) return -Infinity
  const hz = by.part.pulse ? restingHz(work, place, by) : work.lit.realHz
  return hz === undefined ? -Infinity : work.toldAt + Math.ceil(MICROS_PER_SECOND / hz)
}

/** Whether the part's voices can move by themselves. */
function moves({ config }: ResolveState, index: PartIndex): boolean {
  const part = config.parts[index]
  return (
    config.wander !== undefined ||
    (part !== undefined &&
      (part.glide ?? part.vibrato ?? part.pulse ?? part.dutyBy?.sweepSeconds) !== undefined)
  )
}
