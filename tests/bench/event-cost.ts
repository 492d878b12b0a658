import { Graph } from '../../src/graph/graph.ts'
import { benchShow } from './bench-show.ts'
import { nextRandom } from '../../src/domain/random.ts'

export interface EventCost {
  readonly strategy: string
  readonly lamps: number
  readonly medianMicros: number
  readonly p99Micros: number
  readonly eventsPerSecond: number
}

const WARM = 20_000
const MEASURED = 60_000
/** Microseconds of the graph's own time from event to event. */
const SPACING = 2_000

/** The cost of one note event through the whole graph, from a port's bytes to an output's bytes, about as many notes held as there are lamps, up to ten. */
export function eventCost(lamps: number, strategy: Record<string, unknown>): EventCost {
  const graph = new Graph({ show: benchShow(lamps, strategy), song: 'song' })
  let bytes = 0
  graph.tap$.subscribe((event) => {
    if (event.kind === 'bytes') bytes += event.bytes.length
  })
  graph.open()
  const held: number[] = []
  const most = Math.min(10, lamps)
  const costs = new Float64Array(MEASURED)
  let seed = 1
  let sum = 0
  for (let index = -WARM; index < MEASURED; index++) {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    const isOff = held.length >= most || (held.length > 0 && drawn.value < 0.45)
    const key = isOff ? (held.shift() as number) : 36 + Math.floor(drawn.value * 60)
    if (!isOff) held.push(key)
    const message = Uint8Array.of(isOff ? 0x80 : 0x90, key, 100)
    const at = (index + WARM + 1) * SPACING
    const began = performance.now()
    graph.play('keys', message, at)
    graph.advance(at)
    const cost = (performance.now() - began) * 1000
    if (index < 0) continue
    costs[index] = cost
    sum += cost
  }
  if (bytes === 0) throw new Error('the graph sent nothing')
  costs.sort()
  return {
    strategy: String(strategy.kind),
    lamps,
    medianMicros: at(costs, 0.5),
    p99Micros: at(costs, 0.99),
    eventsPerSecond: Math.round((MEASURED / sum) * 1e6),
  }
}

function at(sorted: Float64Array, share: number): number {
  return Math.round((sorted[Math.floor(sorted.length * share)] ?? 0) * 100) / 100
}
