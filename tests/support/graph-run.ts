import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Graph } from '../../src/graph/graph.ts'
import type { SavedGraph } from '../../src/graph/graph.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import type { AnyStrategy } from '../../src/strategies/strategy.ts'
import type { Played } from './arbitrary-playing.ts'

/** A graph under test, with everything it said. */
export class GraphRun {
  graph: Graph
  readonly events: TapEvent[] = []
  readonly #show: Show
  readonly #strategies: readonly AnyStrategy[] | undefined
  readonly #at: Micros

  /** `at`: when it begins. */
  constructor(show: Show, strategies?: readonly AnyStrategy[], at: Micros = 0) {
    this.#show = show
    this.#strategies = strategies
    this.#at = at
    this.graph = this.#make()
    this.graph.open()
  }

  /** Plays in order, each so long after the one before; returns the time of the last. */
  play(played: readonly Played[], from: Micros = this.graph.now): Micros {
    let at = from
    for (const { player, bytes, after } of played) {
      at += after
      this.graph.play(player, bytes, at)
    }
    return at
  }

  /** Puts the graph down as JSON and takes it up again. */
  putDown(): void {
    const saved = JSON.parse(JSON.stringify(this.graph.save())) as SavedGraph
    this.graph.dispose()
    this.graph = this.#make(saved)
  }

  /** Runs until nothing is due, or for so long. */
  runOut(most: Micros = 60_000_000): void {
    const end = this.graph.now + most
    this.graph.advance(this.graph.now)
    while (this.graph.nextDue <= end) this.graph.advance(this.graph.nextDue)
  }

  of<Kind extends TapEvent['kind']>(kind: Kind): (TapEvent & { kind: Kind })[] {
    return this.events.filter((event): event is TapEvent & { kind: Kind } => event.kind === kind)
  }

  /** What left, as text: one line for each piece of bytes. */
  bytes(): string[] {
    return this.of('bytes').map(
      ({ at, output, bytes }) => `${at} ${output} ${Buffer.from(bytes).toString('hex')}`,
    )
  }

  litLamps(): string[] {
    return this.graph.lamps.flatMap((lamp, index) => (lamp.on ? [this.#show.rig.lamps[index]?.id ?? ''] : []))
  }

  #make(saved?: SavedGraph): Graph {
    const song = this.#show.setList[0] ?? ''
    const graph = new Graph({
      show: this.#show,
      song,
      at: this.#at,
      ...(saved ? { saved } : {}),
      ...(this.#strategies ? { strategies: this.#strategies } : {}),
    })
    graph.tap$.subscribe((event) => this.events.push(event))
    return graph
  }
}
