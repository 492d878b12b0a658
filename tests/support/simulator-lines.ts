import type { Cycles, PinEdge } from './pin-edges.ts'

/** What lamp-box-sim prints, as it is read. */
export interface SimulatorLog {
  readonly edges: PinEdge[]
  /** Bytes that the firmware received, each with the cycle it was complete. */
  readonly received: { byte: number; cycle: Cycles }[]
  /** Bytes that the firmware sent, each with the cycle it had gone out. */
  readonly sent: { byte: number; cycle: Cycles }[]
  readonly resets: Cycles[]
  readonly peeked: Record<string, number>
  overruns?: number
  end?: Cycles
  pty?: string
}

export function emptyLog(): SimulatorLog {
  return { edges: [], received: [], sent: [], resets: [], peeked: {} }
}

export function readSimulatorLine(log: SimulatorLog, line: string): void {
  const [word, first = '', second = '', third = ''] = line.split(' ')
  switch (word) {
    case 'pin':
      log.edges.push({ slot: Number(first), level: second === '1' ? 1 : 0, cycle: Number(third) })
      return
    case 'rx':
      log.received.push({ byte: Number.parseInt(first, 16), cycle: Number(second) })
      return
    case 'tx':
      log.sent.push({ byte: Number.parseInt(first, 16), cycle: Number(second) })
      return
    case 'reset':
      log.resets.push(Number(first))
      return
    case 'peek':
      log.peeked[first] = Number(second)
      return
    case 'overruns':
      log.overruns = Number(first)
      return
    case 'end':
      log.end = Number(first)
      return
    case 'pty':
      log.pty = first
  }
}
