import { failed, RESTED } from './backoff.ts'
import type { Backoff } from './backoff.ts'
import { MidiError } from './midi-error.ts'
import type { Heard, MidiInputPort, MidiOutputPort, MidiSystem, PortWay } from './midi-system.ts'
import { realTimer } from './poll-timer.ts'
import type { Millis } from './poll-timer.ts'
import { bareName } from './port-name.ts'

/** One way of the real system as it was listed last. */
interface Listed {
  /** How many of our list stand before the real ones. */
  readonly first: number
  /** Which of its names are in our list. */
  readonly places: readonly number[]
}

interface Look {
  names: readonly string[]
  failures: number
  backoff: Backoff
}

const NOTHING_LISTED: Listed = { first: 0, places: [] }

/**
 * Two MIDI systems as one: ports in memory first, then those of the machine. A real port that is called like one in memory is not listed, since nobody
 * could tell which is meant. Where the real system is unavailable the memory's ports are still there, and it is tried again from time to time. Virtual
 * ports are the real system's. `close` closes both.
 */
export function joinMidi(
  memory: MidiSystem,
  real: MidiSystem,
  now: () => Millis = realTimer.now,
): MidiSystem {
  return new JoinedMidi(memory, real, now)
}

class JoinedMidi implements MidiSystem {
  readonly openVirtualInput?: (name: string, heard: Heard) => MidiInputPort
  readonly openVirtualOutput?: (name: string) => MidiOutputPort
  readonly #memory: MidiSystem
  readonly #real: MidiSystem
  readonly #now: () => Millis
  readonly #listed: Record<PortWay, Listed> = { input: NOTHING_LISTED, output: NOTHING_LISTED }
  readonly #looks: Record<PortWay, Look> = {
    input: { names: [], failures: 0, backoff: RESTED },
    output: { names: [], failures: 0, backoff: RESTED },
  }

  constructor(memory: MidiSystem, real: MidiSystem, now: () => Millis) {
    this.#memory = memory
    this.#real = real
    this.#now = now
    if (real.openVirtualInput) this.openVirtualInput = real.openVirtualInput.bind(real)
    if (real.openVirtualOutput) this.openVirtualOutput = real.openVirtualOutput.bind(real)
  }

  inputs(): readonly string[] {
    return this.#list('input')
  }

  outputs(): readonly string[] {
    return this.#list('output')
  }

  openInput(place: number, heard: Heard): MidiInputPort {
    const { first, places } = this.#listed.input
    if (place < first) return this.#memory.openInput(place, heard)
    return this.#real.openInput(places[place - first] ?? -1, heard)
  }

  openOutput(place: number): MidiOutputPort {
    const { first, places } = this.#listed.output
    if (place < first) return this.#memory.openOutput(place)
    return this.#real.openOutput(places[place - first] ?? -1)
  }

  close(): void {
    this.#memory.close()
    this.#real.close()
  }

  #list(way: PortWay): readonly string[] {
    const memory = way === 'input' ? this.#memory.inputs() : this.#memory.outputs()
    const real = this.#realNames(way)
    const bare = new Set(memory.map(bareName))
    const places = [...real.keys()].filter((place) => !bare.has(bareName(real[place] ?? '')))
    this.#listed[way] = { first: memory.length, places }
    return [...memory, ...places.map((place) => real[place] ?? '')]
  }

  /** Of two failures the first may be a hiccup while devices change: the ports are taken to be there still. */
  #realNames(way: PortWay): readonly string[] {
    const look = this.#looks[way]
    if (this.#now() < look.backoff.due) return look.names
    try {
      look.names = [...(way === 'input' ? this.#real.inputs() : this.#real.outputs())]
      look.failures = 0
      look.backoff = RESTED
    } catch (thrown) {
      if (!(thrown instanceof MidiError) || thrown.kind !== 'unavailable') throw thrown
      look.failures++
      if (look.failures > 1 || look.names.length === 0) {
        look.names = []
        look.backoff = failed(look.backoff, this.#now())
      }
    }
    return look.names
  }
}
