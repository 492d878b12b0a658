import { existsSync } from 'node:fs'
import { asMidiError, MidiError } from './midi-error.ts'
import { loadMidiModule, MIDI_MODULE_VARIABLE } from './midi-module.ts'
import type { MidiLoader, MidiModule } from './midi-module.ts'
import type { Heard, MidiInputPort, MidiOutputPort, MidiSystem, PortWay } from './midi-system.ts'
import { newcomers, othersPlaces } from './own-ports.ts'
import { PortLister } from './port-lister.ts'
import { RealInput } from './real-input.ts'
import { RealOutput } from './real-output.ts'

/** The kernel's way to its MIDI router; the stock module needs it on Linux, and complains on the terminal where it is not. */
const SEQUENCER = '/dev/snd/seq'

/** The names that RtMidi gives to the hidden end of each port that it opens. */
const HIDDEN_END = /RtMidi (Input|Output)/u

/**
 * The MIDI ports of this machine, through `@julusian/midi` (RtMidi). Nothing is loaded before the first call. Where MIDI cannot be
 * had, each call throws a `MidiError` of kind `unavailable`, and later calls try again.
 */
export function realMidi(load: MidiLoader = loadMidiModule): MidiSystem {
  return new RealMidi(load)
}

class RealMidi implements MidiSystem {
  readonly openVirtualInput?: (name: string, heard: Heard) => MidiInputPort
  readonly openVirtualOutput?: (name: string) => MidiOutputPort
  readonly #load: MidiLoader
  readonly #ports = new Set<RealInput | RealOutput>()
  readonly #listers: Record<PortWay, PortLister>
  /** Our own ports among the names of each way. */
  readonly #own: Record<PortWay, string[]> = { input: [], output: [] }
  /** The lists as given out last, and where each name stood in the system's own list. */
  readonly #listed: Record<PortWay, { names: readonly string[]; places: readonly number[] }> = {
    input: { names: [], places: [] },
    output: { names: [], places: [] },
  }
  #module: MidiModule | undefined
  #closed = false

  constructor(load: MidiLoader) {
    this.#load = load
    this.#listers = {
      input: new PortLister(() => new (this.#native().Input)()),
      output: new PortLister(() => new (this.#native().Output)()),
    }
    if (process.platform === 'win32') return
    this.openVirtualInput = (name, heard) =>
      this.#openVirtual('input', name, () => this.#newInput(name, heard))
    this.openVirtualOutput = (name) => this.#openVirtual('output', name, () => this.#newOutput(name))
  }

  inputs(): readonly string[] {
    return this.#list('input')
  }

  outputs(): readonly string[] {
    return this.#list('output')
  }

  openInput(place: number, heard: Heard): MidiInputPort {
    return this.#openListed('input', place, (name) => this.#newInput(name, heard))
  }

  openOutput(place: number): MidiOutputPort {
    return this.#openListed('output', place, (name) => this.#newOutput(name))
  }

  close(): void {
    this.#closed = true
    for (const port of this.#ports) port.close()
    this.#listers.input.close()
    this.#listers.output.close()
  }

  #native(): MidiModule {
    if (this.#closed) throw new MidiError('unavailable', 'MIDI was closed')
    if (this.#load === loadMidiModule && !process.env[MIDI_MODULE_VARIABLE] && process.platform === 'linux') {
      if (!existsSync(SEQUENCER)) throw new Error(`there is no ${SEQUENCER}`)
    }
    return (this.#module ??= this.#load())
  }

  #list(way: PortWay): readonly string[] {
    const all = this.#all(way)
    const places = othersPlaces(all, this.#own[way])
    const names = places.map((place) => all[place] ?? '')
    this.#listed[way] = { names, places }
    return names
  }

  /** The system's own list. */
  #all(way: PortWay): string[] {
    try {
      return this.#listers[way].names(performance.now())
    } catch (thrown) {
      throw unavailable(thrown)
    }
  }

  #openListed<Port extends RealInput | RealOutput>(
    way: PortWay,
    place: number,
    make: (name: string) => Port,
  ): Port {
    const { names, places } = this.#listed[way]
    const name = names[place]
    const at = places[place]
    // RtMidi opens by number, and on some systems says nothing when the port has gone meanwhile: so look before and after.
    if (name === undefined || at === undefined || this.#all(way)[at] !== name) {
      throw new MidiError('gone', goneWords(way, name ?? `number ${place + 1}`))
    }
    let port: Port
    try {
      port = this.#opening(
        way,
        name,
        () => make(name),
        (made) => made.open(at),
      )
    } catch (thrown) {
      if (this.#all(way)[at] === name) throw thrown
      throw new MidiError('gone', goneWords(way, name))
    }
    if (this.#all(way)[at] === name) return port
    port.close()
    throw new MidiError('gone', goneWords(way, name))
  }

  #openVirtual<Port extends RealInput | RealOutput>(way: PortWay, name: string, make: () => Port): Port {
    return this.#opening(way, name, make, (made) => made.openVirtual())
  }

  /** Opens, and finds out which new port in the other list is only our own end of it. */
  #opening<Port extends RealInput | RealOutput>(
    way: PortWay,
    name: string,
    make: () => Port,
    open: (port: Port) => void,
  ): Port {
    const other = way === 'input' ? 'output' : 'input'
    const before = this.#all(other)
    let port: Port
    try {
      port = make()
    } catch (thrown) {
      throw unavailable(thrown)
    }
    try {
      open(port)
    } catch (thrown) {
      port.close()
      throw asMidiError(thrown, 'busy', busyWords(way, name))
    }
    const ends = newcomers(before, this.#all(other)).filter(
      (end) => HIDDEN_END.test(end) || end.includes(name),
    )
    this.#own[other].push(...ends)
    this.#ports.add(port)
    port.onClose = () => {
      this.#ports.delete(port)
      for (const end of ends) this.#own[other].splice(this.#own[other].indexOf(end), 1)
    }
    return port
  }

  #newInput(name: string, heard: Heard): RealInput {
    return new RealInput(new (this.#native().Input)(), name, heard, () => this.#isListed('input', name))
  }

  #newOutput(name: string): RealOutput {
    return new RealOutput(new (this.#native().Output)(), name)
  }

  #isListed(way: PortWay, name: string): boolean {
    try {
      return this.#all(way).includes(name)
    } catch {
      return false
    }
  }
}

function goneWords(way: PortWay, name: string): string {
  return `The MIDI ${way} "${name}" is not there any more. Plug it in again, or choose another port.`
}

function busyWords(way: PortWay, name: string): string {
  return `The MIDI ${way} "${name}" does not open; another program may hold it. Close that program, or choose another port.`
}

function unavailable(thrown: unknown): MidiError {
  const remedy =
    process.platform === 'linux'
      ? `Load the sequencer ("sudo modprobe snd-seq"), and see that you may open ${SEQUENCER} (group "audio").`
      : 'Restart the machine; if it stays, install Lanthorn anew.'
  return asMidiError(
    thrown,
    'unavailable',
    `MIDI cannot be used on this machine now. ${remedy} The rest goes on without it.`,
  )
}
