import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { MICROS_PER_MS, type Micros } from '../../src/domain/units.ts'
import { decode } from '../../src/midi/decode.ts'
import type { DecodeOut, DecoderState } from '../../src/midi/decode.ts'
import { failed, RESTED } from './ports/backoff.ts'
import type { Backoff } from './ports/backoff.ts'
import type { MidiInputPort, MidiSystem } from './ports/midi-system.ts'
import type { Millis } from './ports/poll-timer.ts'
import type { SerialTimers } from './ports/serial-system.ts'

export interface LearnerOptions {
  readonly midiIn: MidiSystem
  /** Places of the list just asked for that are open already: what comes in there is handed to `heard`. */
  readonly held: (list: readonly string[]) => ReadonlySet<number>
  readonly timers: SerialTimers
  readonly say: (message: FromEngine) => void
}

const LOOK_EVERY: Micros = 500 * MICROS_PER_MS
/** How long others have to open what they want when ports are let go for them. */
const GIVEN: Micros = 2_000 * MICROS_PER_MS
/** A knob that turns, or a key that trembles, is told once in this time. */
const ONCE_IN: Micros = 150 * MICROS_PER_MS
/** From here on controllers are channel mode messages, which instruments send by themselves. MIDI 1.0 Detailed Specification. */
const FIRST_MODE_MESSAGE = 120

/** The ports of one name. Equal names cannot be told apart: when their number changes, all are opened anew. */
interface Ears {
  /** Where they stood in the list when they were opened, and what is open there. */
  readonly ports: ReadonlyMap<number, MidiInputPort>
  readonly places: readonly number[]
  /** For those that did not open. */
  readonly backoff: Backoff
}

/** While learning, listens to every MIDI input there is and says what is played there. Nothing of it is played on. */
export class Learner {
  readonly #options: LearnerOptions
  readonly #ears = new Map<string, Ears>()
  /** By port: system exclusive may come in pieces. */
  readonly #decoders = new Map<string, DecoderState>()
  /** When each control was told last. */
  readonly #told = new Map<string, Micros>()
  /** What has been complained of, each once. */
  readonly #complaints = new Set<string>()
  #backoff: Backoff = RESTED
  #cancel: (() => void) | undefined

  constructor(options: LearnerOptions) {
    this.#options = options
  }

  get isOn(): boolean {
    return this.#cancel !== undefined
  }

  start(): void {
    if (!this.isOn) this.#look()
  }

  /** Closes what it opened. */
  stop(): void {
    this.#cancel?.()
    this.#cancel = undefined
    this.#closeAll()
    this.#decoders.clear()
    this.#told.clear()
    this.#complaints.clear()
    this.#backoff = RESTED
  }

  /** Lets every port go for two seconds: somebody else is about to open some, and not every system lets a port be opened twice. */
  giveWay(): void {
    if (!this.isOn) return
    this.#cancel?.()
    this.#closeAll()
    this.#lookIn(GIVEN)
  }

  /** Bytes from a port, of our own or of those that are open already. Only while `isOn`. */
  heard(port: string, bytes: Uint8Array): void {
    const { state, out } = decode.step(this.#decoders.get(port) ?? decode.start(), bytes, 0)
    this.#decoders.set(port, state)
    for (const message of out) this.#learn(port, message)
  }

  #learn(port: string, message: DecodeOut): void {
    let control: { readonly key: number } | { readonly controller: number } | { readonly program: number }
    if (message.type === 'note-on') control = { key: message.key }
    else if (message.type === 'controller' && message.controller < FIRST_MODE_MESSAGE)
      control = { controller: message.controller }
    else if (message.type === 'program') control = { program: message.program }
    else return
    const { channel } = message
    const now = this.#options.timers.now()
    const which = JSON.stringify([port, channel, control])
    if (now - (this.#told.get(which) ?? -Infinity) < ONCE_IN) return
    this.#told.set(which, now)
    this.#options.say({ v: CONTRACT_VERSION, type: 'learned', port, channel, ...control })
  }

  #lookIn(wait: Micros): void {
    const { timers } = this.#options
    this.#cancel = timers.at(timers.now() + wait, () => this.#look())
  }

  #look(): void {
    const { midiIn, held } = this.#options
    this.#lookIn(LOOK_EVERY)
    if (this.#now() < this.#backoff.due) return
    let list: readonly string[]
    try {
      list = midiIn.inputs()
      this.#backoff = RESTED
    } catch (thrown) {
      this.#backoff = failed(this.#backoff, this.#now())
      return this.#complain(thrown)
    }
    const taken = held(list)
    const free = new Map<string, number[]>()
    list.forEach((name, place) => {
      if (!taken.has(place)) free.set(name, [...(free.get(name) ?? []), place])
    })
    for (const name of this.#ears.keys()) if (!free.has(name)) this.#close(name)
    for (const [name, places] of free) this.#listen(name, places)
  }

  #listen(name: string, places: readonly number[]): void {
    const before = this.#ears.get(name)
    const isSame = before?.places.length === places.length
    if (before && isSame && (before.ports.size === places.length || this.#now() < before.backoff.due)) return
    const isUnmoved = isSame && before.places.every((place, index) => place === places[index])
    if (!isUnmoved) this.#close(name)
    const ports = new Map(isUnmoved ? before.ports : [])
    for (const place of places) {
      if (ports.has(place)) continue
      try {
        ports.set(place, this.#open(name, place))
      } catch (thrown) {
        this.#complain(thrown)
      }
    }
    const isWhole = ports.size === places.length
    const backoff = isWhole ? RESTED : failed(before?.backoff ?? RESTED, this.#now())
    this.#ears.set(name, { ports, places, backoff })
  }

  #open(name: string, place: number): MidiInputPort {
    return this.#options.midiIn.openInput(place, (bytes) => {
      if (this.isOn) this.heard(name, bytes)
    })
  }

  #now(): Millis {
    return this.#options.timers.now() / MICROS_PER_MS
  }

  #closeAll(): void {
    for (const name of this.#ears.keys()) this.#close(name)
  }

  #close(name: string): void {
    const ears = this.#ears.get(name)
    this.#ears.delete(name)
    for (const port of ears?.ports.values() ?? []) port.close()
  }

  #complain(thrown: unknown): void {
    const message = thrown instanceof Error ? thrown.message : String(thrown)
    if (this.#complaints.has(message)) return
    this.#complaints.add(message)
    const diagnostic = { level: 'warning', source: 'learn', code: 'not-heard', message } as const
    const at = this.#options.timers.now()
    this.#options.say({ v: CONTRACT_VERSION, type: 'diagnostic', at, diagnostic })
  }
}
