import { MidiError } from './midi-error.ts'
import { MemoryDevice } from './memory-device.ts'
import type { Heard, MidiInputPort, MidiOutputPort, MidiSystem, PortWay } from './midi-system.ts'

/** A MIDI system in memory: the same interface as the real one, and hands that plug, pull, hold and play. */
export class MemoryMidi implements MidiSystem {
  readonly #now: () => number
  readonly #devices: Record<PortWay, MemoryDevice[]> = { input: [], output: [] }
  readonly #listed: Record<PortWay, readonly MemoryDevice[]> = { input: [], output: [] }
  readonly #open = new Set<MidiInputPort | MidiOutputPort>()
  readonly #virtual = new Map<string, Heard>()
  #trouble: string | undefined

  /** `now` stamps what is sent; in whatever unit it gives. */
  constructor(now: () => number = () => performance.now()) {
    this.#now = now
  }

  // What the engine sees.

  inputs(): readonly string[] {
    return this.#list('input')
  }

  outputs(): readonly string[] {
    return this.#list('output')
  }

  openInput(place: number, heard: Heard): MidiInputPort {
    const device = this.#at('input', place)
    const ear: Heard = (bytes) => heard(bytes)
    device.ears.add(ear)
    return this.#port(device.name, () => device.ears.delete(ear))
  }

  openOutput(place: number): MidiOutputPort {
    const device = this.#at('output', place)
    const turn = device.turn
    device.open += 1
    const port = this.#port(device.name, () => {
      device.open -= 1
    })
    return {
      ...port,
      send: (bytes) => {
        if (!this.#open.has(port)) throw new MidiError('gone', `The MIDI output "${device.name}" is closed.`)
        if (!device.plugged || device.turn !== turn) {
          throw new MidiError(
            'gone',
            `The MIDI output "${device.name}" is not there any more. Plug it in again.`,
          )
        }
        device.take(bytes, this.#now())
      },
    }
  }

  openVirtualInput(name: string, heard: Heard): MidiInputPort {
    this.#virtual.set(name, heard)
    return this.#port(name, () => this.#virtual.delete(name))
  }

  openVirtualOutput(name: string): MidiOutputPort {
    const device = new MemoryDevice(name)
    this.virtualOutputs.set(name, device)
    const port = this.#port(name, () => this.virtualOutputs.delete(name))
    return {
      ...port,
      send: (bytes) => {
        if (!this.#open.has(port)) throw new MidiError('gone', `The MIDI output "${name}" is closed.`)
        device.take(bytes, this.#now())
      },
    }
  }

  close(): void {
    for (const port of this.#open) port.close()
  }

  // What the world does.

  /** What the engine sends to its own virtual outputs. */
  readonly virtualOutputs = new Map<string, MemoryDevice>()

  /** Plugs a device in, at a place of the list, else last. */
  plug(way: PortWay, name: string, place?: number): MemoryDevice {
    const device = new MemoryDevice(name)
    this.replug(way, device, place)
    return device
  }

  /** What was open on it stays deaf: a device that comes back is a new one to its system. */
  replug(way: PortWay, device: MemoryDevice, place = this.#devices[way].length): void {
    if (device.plugged) return
    device.plugged = true
    device.turn += 1
    device.ears.clear()
    this.#devices[way].splice(place, 0, device)
  }

  pull(way: PortWay, device: MemoryDevice): void {
    device.plugged = false
    this.#devices[way] = this.#devices[way].filter((other) => other !== device)
  }

  /** Sorts the list anew. */
  reorder(way: PortWay, compare: (a: MemoryDevice, b: MemoryDevice) => number): void {
    this.#devices[way].sort(compare)
  }

  /** Where the list has a device now; -1 while it is pulled. */
  placeOf(way: PortWay, device: MemoryDevice): number {
    return this.#devices[way].indexOf(device)
  }

  /** Another program sends to a virtual input of ours. */
  deliverVirtual(name: string, bytes: Uint8Array): void {
    this.#virtual.get(name)?.(bytes.slice())
  }

  /** MIDI as a whole fails, with these words, until `undefined`. */
  fail(words: string | undefined): void {
    this.#trouble = words
  }

  /** How many ports are open, virtual ones among them. */
  get openCount(): number {
    return this.#open.size
  }

  #list(way: PortWay): readonly string[] {
    if (this.#trouble !== undefined) throw new MidiError('unavailable', this.#trouble)
    this.#listed[way] = [...this.#devices[way]]
    return this.#listed[way].map((device) => device.name)
  }

  #at(way: PortWay, place: number): MemoryDevice {
    const device = this.#listed[way][place]
    if (device === undefined || !device.plugged) {
      throw new MidiError(
        'gone',
        `The MIDI ${way} number ${place + 1} is not there any more. Plug it in again.`,
      )
    }
    if (device.heldByOther) {
      throw new MidiError(
        'busy',
        `Another program holds the MIDI ${way} "${device.name}". Close that program.`,
      )
    }
    return device
  }

  #port(name: string, closing: () => void): MidiInputPort {
    const port = {
      name,
      close: () => {
        if (this.#open.delete(port)) closing()
      },
    }
    this.#open.add(port)
    return port
  }
}
