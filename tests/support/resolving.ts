import type { LampIndex, NoteId, PartIndex } from '../../src/domain/ids.ts'
import type { Voice } from '../../src/domain/intent.ts'
import type { Lit } from '../../src/domain/lamp-state.ts'
import type { Lamp, Output } from '../../src/domain/rig.ts'
import type { EqualTuning } from '../../src/domain/tuning-spec.ts'
import type { ResolveIn, ResolveOut, ResolvePart } from '../../src/tuning/resolve.ts'
import { resolve } from '../../src/tuning/resolve.ts'
import { voice } from './claiming.ts'
import { plantLamp } from './glasshouse-lamps.ts'
import { WIRE } from './rig-outputs.ts'
import { StageRun } from './stage-run.ts'

export const EVEN: EqualTuning = {
  id: 'even',
  kind: 'equal',
  steps: 12,
  periodCents: 1200,
  refNote: 69,
  refHz: 440,
}

export function resolvePart(more: Partial<ResolvePart> = {}): ResolvePart {
  return { id: 'lead', player: 'keys', lamps: [0, 1, 2], tuning: EVEN, duty: 0.5, gap: 0, ...more }
}

/** Three lamps alike on one output. */
export function runResolve(lamp: Partial<Lamp> = {}, output: Output = WIRE, parts = [resolvePart()]) {
  const lamps = [0, 1, 2].map((index) => ({ lamp: plantLamp(index, lamp), output }))
  return new StageRun(resolve, { lamps, parts })
}

export function lightOrder(
  lamp: LampIndex,
  note: NoteId,
  more: Partial<Voice> = {},
  strike = true,
  part: PartIndex = 0,
): ResolveIn {
  return { kind: 'orders', orders: [{ kind: 'light', lamp, part, voice: voice(note, more), strike }] }
}

/** What the lamps are to do, by lamp; undefined for dark. */
export function litBy(said: readonly ResolveOut[]): Map<LampIndex, Lit | undefined> {
  const lit = new Map<LampIndex, Lit | undefined>()
  for (const out of said) {
    if (out.kind !== 'wishes') continue
    for (const { lamp, state } of out.wishes) lit.set(lamp, state.on ? state : undefined)
  }
  return lit
}
