import type { PortStatus } from '../../src/contract/from-engine.ts'
import type { OutputId } from '../../src/domain/ids.ts'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import type { MidiOutput, Rig, SerialOutput, TimerSpec } from '../../src/domain/rig.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { OutputLamp } from '../../src/outputs/encoder-event.ts'
import { SERIAL_VERSION } from '../../src/outputs/serial-frame.ts'
import type { Machine } from './machine.ts'
import { MidiOut } from './midi-out.ts'
import type { PortChoices } from './port-choices.ts'
import { notOpenState, portState } from './port-words.ts'
import type { PortEvent } from './ports/port-event.ts'
import { PortWatch } from './ports/port-watch.ts'
import type { SerialDriverEvent } from './ports/serial-driver-event.ts'
import { SerialDriver } from './ports/serial-driver.ts'
import type { Teller } from './teller.ts'

export interface SessionOutputsOptions {
  readonly rig: Rig
  readonly machine: Machine
  /** Somebody before us, an engine that crashed or another program, may have left lamps lit. */
  readonly recover: boolean
  readonly teller: Teller
  readonly choices: PortChoices
  /** A MIDI output's port is open and listens: it is to be greeted. */
  readonly greet: (output: OutputId) => void
  /** A lamp box has this timer, whatever the show says. */
  readonly setTimer: (output: OutputId, timer: TimerSpec) => void
  /** Every lamp box answers. */
  readonly boxesReady: () => void
  /** The ports that are sent a clock, as the show calls them; each once. */
  readonly clockPorts: readonly string[]
  /** Whether such a port, by its place in that list, listens. */
  readonly clockPort: (place: number, isThere: boolean) => void
}

/** On some systems a port that has just been opened loses what is sent at once; its greeting waits for so long. */
const CONNECTS: Micros = 20_000

/** The ports that a rig's lamps hang on: MIDI outputs, and serial lines with a lamp box at the end. */
export class SessionOutputs {
  readonly #options: SessionOutputsOptions
  readonly #watch: PortWatch
  readonly #midiOuts = new Map<string, MidiOut>()
  readonly #drivers = new Map<string, SerialDriver>()
  /** By its place among the ports that are sent a clock: the key of its port, which is a lamp output's where it is that output's port too. */
  readonly #clockKeys: readonly string[]
  #isStarted = false
  #isOver = false

  constructor(options: SessionOutputsOptions) {
    this.#options = options
    const { machine, rig, clockPorts } = options
    this.#watch = new PortWatch({
      system: machine.midiOut,
      report: (event) => this.#midiEvent(event),
      ...(machine.pollTimer ? { timer: machine.pollTimer } : {}),
    })
    for (const output of rig.outputs) {
      if (output.kind === 'serial') this.#drivers.set(output.id, this.#makeDriver(output))
      else {
        this.#midiOuts.set(output.id, new MidiOut((bytes) => this.#watch.send(output.id, bytes)))
        this.#watch.want({ key: output.id, way: 'output', port: { name: output.port } })
      }
    }
    this.#clockKeys = clockPorts.map((name) => {
      const lamps = rig.outputs.find(({ kind, port }) => kind === 'midi' && port === name)
      if (lamps) return lamps.id
      const key = clockKey(name)
      this.#watch.want({ key, way: 'output', port: { name } })
      return key
    })
  }

  get hasBoxes(): boolean {
    return this.#drivers.size > 0
  }

  /** Pieces of MIDI for ports that were not there. */
  get dropped(): number {
    return [...this.#midiOuts.values()].reduce((sum, out) => sum + out.dropped, 0)
  }

  /** Frames that lamp boxes have not answered; undefined without lamp boxes. */
  get framesWaiting(): number | undefined {
    if (!this.hasBoxes) return undefined
    return [...this.#drivers.values()].reduce((sum, { depth }) => sum + depth.frames, 0)
  }

  startBoxes(): void {
    for (const driver of this.#drivers.values()) driver.start()
  }

  startMidi(): void {
    this.#isStarted = true
    this.#watch.start()
  }

  /** After a sleep: looks for all ports at once. */
  lookAnew(): void {
    this.#watch.lookAnew()
    for (const driver of this.#drivers.values()) driver.lookNow()
  }

  hasMidi(output: string): boolean {
    return this.#midiOuts.has(output) || this.#clockKeys.includes(output)
  }

  /** Answers which port is the MIDI output's; false where there is no such question now. Before `startMidi` the answer waits for the question. */
  choose(output: string, place: number): boolean {
    if (!this.#isStarted) {
      this.#options.choices.give(output, place)
      return true
    }
    return this.#watch.choose(output, place)
  }

  /** The changes of one moment, for the lamp boxes. */
  changes(changes: readonly LampChange[]): void {
    for (const driver of this.#drivers.values()) driver.changes(changes)
  }

  /** One message to a MIDI output. */
  send(output: OutputId, bytes: Uint8Array): void {
    this.#midiOuts.get(output)?.send(bytes)
  }

  /** One message of the clock to a port that is sent one, by its place in their list. What a port that is not there would have got is no loss to count. */
  sendClock(place: number, bytes: Uint8Array): void {
    const key = this.#clockKeys[place]
    if (key !== undefined) this.#watch.send(key, bytes)
  }

  /** Bytes past all accounts to every MIDI output. */
  probe(bytes: Uint8Array): void {
    for (const id of this.#midiOuts.keys()) this.#watch.send(id, bytes)
  }

  /** Everything dark, each output by its own account. */
  darkNow(): void {
    this.darkBoxes()
    for (const out of this.#midiOuts.values()) out.darkNow()
  }

  /** Every lamp box on a serial line dark; MIDI outputs are the graph's, which darkens them itself. */
  darkBoxes(): void {
    for (const driver of this.#drivers.values()) driver.darkAll()
  }

  /** Greets every MIDI output anew. */
  greetAll(): void {
    for (const id of this.#midiOuts.keys()) this.#options.greet(id)
  }

  /** Waits (bounded) until what was sent has left and lets the ports go. Resolves to whether all boxes said so. */
  async close(): Promise<boolean> {
    this.#isOver = true
    const wereReady = [...this.#drivers.values()].filter(({ state }) => state === 'ready')
    await Promise.all([...this.#drivers.values()].map((driver) => driver.close()))
    this.#watch.stop()
    return wereReady.every(({ depth }) => depth.bytes === 0)
  }

  #makeDriver(output: SerialOutput): SerialDriver {
    const { machine, setTimer } = this.#options
    return new SerialDriver({
      output,
      lamps: this.#lampsOf(output.id),
      system: machine.serial,
      timers: machine.timers,
      taken: () =>
        [...this.#drivers].flatMap(([id, driver]) => (id !== output.id && driver.path ? [driver.path] : [])),
      onEvent: (event) => this.#driverEvent(output, event),
      setTimer: (timer) => setTimer(output.id, timer),
    })
  }

  #lampsOf(output: OutputId): OutputLamp[] {
    return this.#options.rig.lamps.flatMap((lamp, index) =>
      lamp.output === output ? [{ index, slot: lamp.slot }] : [],
    )
  }

  #midiEvent(event: PortEvent): void {
    const { rig, machine, teller, choices } = this.#options
    const { wanted } = event
    const output = rig.outputs.find(({ id }) => id === wanted)
    const lamps = output?.kind === 'midi' ? output : undefined
    const name = lamps?.port ?? this.#options.clockPorts[this.#clockKeys.indexOf(wanted)]
    if (name === undefined) return
    const chosen = choices.take([wanted])
    if (event.kind === 'ambiguous' && chosen !== undefined && this.#watch.choose(wanted, chosen)) return
    const isThere = event.kind === 'opened' || event.kind === 'returned'
    if (isThere) {
      const isFirst = event.kind === 'opened'
      machine.timers.at(machine.timers.now() + CONNECTS, () => {
        if (lamps) this.#greet(lamps, isFirst)
        if (!this.#isOver && this.#watch.isOpen(wanted)) this.#tellClock(wanted, true)
      })
    } else this.#tellClock(wanted, false)
    teller.port({ id: wanted, kind: 'midi-out', name, ...portState(event) })
  }

  #tellClock(key: string, isThere: boolean): void {
    const place = this.#clockKeys.indexOf(key)
    if (place >= 0) this.#options.clockPort(place, isThere)
  }

  #greet(output: MidiOutput, isFirst: boolean): void {
    if (this.#isOver) return
    // What ended while its port was away nobody told the box, which may have kept its power.
    if (!isFirst || this.#options.recover) {
      const slots = this.#lampsOf(output.id).map(({ slot }) => slot)
      this.#midiOuts.get(output.id)?.recover(output, slots)
    }
    this.#options.greet(output.id)
  }

  #driverEvent(output: SerialOutput, event: SerialDriverEvent): void {
    const { teller } = this.#options
    const status = (state: PortStatus['state'], message: string): void =>
      teller.port({ id: output.id, kind: 'serial', name: output.port, state, message })
    switch (event.kind) {
      case 'opened':
        return status(
          'open',
          event.moved
            ? `found again at ${event.path}; greeting the lamp box`
            : `${event.path} is open; greeting the lamp box`,
        )
      case 'ready':
        if ([...this.#drivers.values()].every(({ state }) => state === 'ready')) this.#options.boxesReady()
        return status('ready', event.again ? 'the lamp box is back' : 'the lamp box answers')
      case 'lost':
        return status('lost', event.reason)
      case 'not-open':
        return status(notOpenState(event.fault), event.message)
      case 'identity':
        if (event.differs !== undefined) {
          const level = event.identity.version === SERIAL_VERSION ? 'warning' : 'fault'
          teller.report(level, output.id, 'box-differs', event.differs)
        }
        return
      case 'fault':
        return teller.report('fault', output.id, 'link', event.message)
      case 'count':
        return teller.count(`box ${event.what}`)
      case 'latency':
      case 'learned':
        return
    }
  }
}

/** What a port that is sent a clock and nothing else is called where ports have ids. */
function clockKey(port: string): string {
  return `clock ${port}`
}
