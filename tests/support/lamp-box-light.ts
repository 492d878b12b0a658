import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { GraphRun } from './graph-run.ts'
import { AWAKE, runLampBox, type ScriptStep } from './lamp-box-script.ts'
import { CYCLES_A_MICRO, edgesOf, type PinEdge } from './pin-edges.ts'

/** From this rate on light is taken for steady (some people see flicker up to here; epilepsy charities, second-hand): a lamp dark for longer is seen to be dark. */
export const SEEN_DARK: Micros = 1_000_000 / 60

const BEAT: Micros = 250_000

export interface PlayedLight {
  readonly run: GraphRun
  readonly edges: readonly PinEdge[]
  /** How long the run was. */
  readonly end: Micros
}

/** Plays into a show until `end`; the bytes that leave go to the firmware at their times, with a sign of life four times a second. */
export function lightOf(show: Show, end: Micros, play: (run: GraphRun) => void): PlayedLight {
  const run = new GraphRun(show)
  play(run)
  run.graph.advance(end)
  const cycle = (at: Micros): number => AWAKE + at * CYCLES_A_MICRO
  const frames = run.of('bytes').map(({ at, bytes }): ScriptStep => ({ at: cycle(at), send: bytes }))
  const beats = Array.from({ length: Math.floor(end / BEAT) }, (_, count): ScriptStep => ({
    // Between the notes that are played here, whose times are even.
    at: cycle(count * BEAT + 133_000),
    send: { type: 'beat', sequence: count % 256, micros: 0 },
  }))
  run.graph.dispose()
  const { edges } = runLampBox([
    ...[...frames, ...beats].toSorted((a, b) => a.at - b.at),
    { at: cycle(end), end: true },
  ])
  return { run, edges, end }
}

/** Whole and part microseconds of the run. */
export function microsAt(cycle: number): number {
  return (cycle - AWAKE) / CYCLES_A_MICRO
}

export interface LitSpan {
  /** Its first rise and its last fall. */
  readonly from: number
  readonly to: number
}

/** When a pin is lit as it is seen: its pulses come closer than `SEEN_DARK`. */
export function litSpans(edges: readonly PinEdge[], slot: number): LitSpan[] {
  const spans: { from: number; to: number }[] = []
  for (const { level, cycle } of edgesOf(edges, slot)) {
    const at = microsAt(cycle)
    const last = spans.at(-1)
    if (level === 0 && last) last.to = at
    else if (level === 1 && (!last || at - last.to > SEEN_DARK)) spans.push({ from: at, to: Infinity })
  }
  return spans
}
