import type { OutputId } from '../domain/ids.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import type { Pace, ResolveConfig, ResolveIn, ResolveOut, ResolveState, SongBeats } from './resolve-state.ts'
import { Resolving } from './resolving.ts'
import { wirePace } from './wire-pace.ts'

export type { ResolveConfig, ResolveIn, ResolveOut, ResolveState } from './resolve-state.ts'
export type { Fold } from './unseen.ts'
export type { ResolvePart } from './voice-light.ts'

const LONG_AGO: Micros = -1e15
const FIRST_TIME: SongBeats = { clock: { at: 0, beats: 0, tempo: 120 }, tempo: 120 }

/**
 * From a voice to what a lamp really does: tuning, ratio, bend and trims give a rate, octaves fold it into the lamp's range, what moves by itself moves it, and the output's timer or
 * bend rounds it. Strikes and ends are told at once, in this step. All else that becomes of sounding lamps leaves no more often than `wirePace` says, the newest
 * of it, and the last of it always. A part's pulse is told flash by flash, each on its beat.
 */
export const resolve: Stage<ResolveConfig, ResolveState, ResolveIn, ResolveOut> = {
  name: 'resolve',
  start: (config) => ({
    config,
    lamps: config.lamps.map(() => null),
    bends: config.parts.map(() => Array.from({ length: 16 }, () => 0)),
    duties: config.parts.map((part) => part.duty),
    vibratos: config.parts.map(({ vibrato }) => (vibrato?.controller === undefined ? 1 : 0)),
    pitched: config.parts.map(() => 0),
    lasts: config.parts.map(() => null),
    time: config.time ?? FIRST_TIME,
    since: null,
    paces: pacesOf(config),
  }),
  step(before, event, now): Step<ResolveState, ResolveOut> {
    const work = new Resolving(before, now)
    work.hear(event)
    return work.done()
  },
}

function pacesOf({ lamps }: ResolveConfig): Record<OutputId, Pace> {
  const counts = new Map<OutputId, number>()
  for (const { output } of lamps) counts.set(output.id, (counts.get(output.id) ?? 0) + 1)
  return Object.fromEntries(
    lamps.map(({ output }) => [
      output.id,
      { every: wirePace(output, counts.get(output.id) ?? 1), at: LONG_AGO },
    ]),
  )
}
