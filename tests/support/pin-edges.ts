/** Cycles of the simulated 16 MHz. */
export type Cycles = number

export const CYCLES_A_MICRO = 16

/** A change of a lamp's pin. */
export interface PinEdge {
  readonly slot: number
  readonly level: 0 | 1
  readonly cycle: Cycles
}

/** From one rise to the next. */
export interface Pulse {
  readonly at: Cycles
  readonly on: Cycles
  readonly period: Cycles
}

export function edgesOf(edges: readonly PinEdge[], slot: number, from = 0, until = Infinity): PinEdge[] {
  return edges.filter((edge) => edge.slot === slot && edge.cycle >= from && edge.cycle < until)
}

/** Whole periods: those that begin and end between the cycles given. */
export function pulsesOf(edges: readonly PinEdge[], slot: number, from = 0, until = Infinity): Pulse[] {
  const own = edgesOf(edges, slot, from, until)
  return own.flatMap((rise, at): Pulse[] => {
    const fall = own[at + 1]
    const next = own[at + 2]
    if (rise.level !== 1 || !fall || !next) return []
    return [{ at: rise.cycle, on: fall.cycle - rise.cycle, period: next.cycle - rise.cycle }]
  })
}

/** Mean over whole periods, in Hz; throws where there is none. */
export function rateOf(edges: readonly PinEdge[], slot: number, from = 0, until = Infinity): number {
  return 16_000_000 / mean(pulsesOf(edges, slot, from, until).map(({ period }) => period))
}

/** Mean on-time over whole periods, in cycles. */
export function onTimeOf(edges: readonly PinEdge[], slot: number, from = 0, until = Infinity): Cycles {
  return mean(pulsesOf(edges, slot, from, until).map(({ on }) => on))
}

/** The pin's level at a cycle; low before its first edge. */
export function levelAt(edges: readonly PinEdge[], slot: number, cycle: Cycles): 0 | 1 {
  return edges.findLast((edge) => edge.slot === slot && edge.cycle <= cycle)?.level ?? 0
}

function mean(values: readonly number[]): number {
  if (values.length === 0) throw new Error('no whole period to measure')
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
