import type { Diagnostic } from '../../src/domain/diagnostic.ts'
import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Show } from '../../src/domain/show.ts'
import { type Micros, MICROS_PER_MS, MICROS_PER_SECOND } from '../../src/domain/units.ts'
import { encode } from '../../src/midi/encode.ts'
import type { MidiFile } from '../../src/midi/file.ts'
import type { DemoTake } from './demo-take.ts'
import { demoTake, readDemoFile } from './demo-take.ts'
import { HeldNotes } from './held-notes.ts'
import type { Machine } from './machine.ts'
import type { MemoryDevice } from './ports/memory-device.ts'
import { joinMidi } from './ports/midi-joined.ts'
import { MemoryMidi } from './ports/midi-memory.ts'
import type { MidiSystem } from './ports/midi-system.ts'

export interface DemoPlayersOptions {
  /** A Standard MIDI File in base64. */
  readonly take: string
  readonly machine: Machine
  readonly report: (diagnostic: Diagnostic) => void
}

interface Instrument {
  readonly device: MemoryDevice
  readonly held: HeldNotes
}

/** How long a take that is about to begin waits for somebody to listen, and how often it looks. */
const LONGEST_WAIT: Micros = 3 * MICROS_PER_SECOND
const LOOK_EVERY: Micros = 20 * MICROS_PER_MS
/** Later than this the machine was away: what was due is not made up for. */
const SLEPT: Micros = 2 * MICROS_PER_SECOND
/** Remarks on a take that are told; more are counted. */
const MOST_REMARKS = 10

/**
 * Players in memory: they play a take over and over, on ports called as the show's players have them. At its end all that is held ends, then come two beats
 * of rest. A take that cannot be read is told, and nobody plays.
 */
export class DemoPlayers {
  /** The machine's inputs, with the ports of these players before them. */
  readonly midiIn: MidiSystem
  readonly #options: DemoPlayersOptions
  readonly #memory: MemoryMidi
  readonly #instruments = new Map<string, Instrument>()
  readonly #file: MidiFile | undefined
  #take: DemoTake | undefined
  /** The show's players that the take was given to. */
  #players = ''
  #begun: Micros = 0
  #next = 0
  #isAsleep = false
  #cancel = (): void => {}

  constructor(options: DemoPlayersOptions) {
    this.#options = options
    const { machine, take, report } = options
    this.#memory = new MemoryMidi(() => machine.clock.now())
    this.midiIn = joinMidi(this.#memory, machine.midiIn, () => machine.timers.now() / MICROS_PER_MS)
    const read = readDemoFile(take)
    if (read.ok) {
      this.#file = read.file
      this.#remark(read.warnings)
    } else {
      const message = `${read.message} The show plays without the take.`
      report({ level: 'fault', source: 'take', code: 'take-unreadable', message })
    }
  }

  /** Whether a port of that name is theirs. */
  plays(port: string): boolean {
    return this.#instruments.has(port)
  }

  /** From the top, as soon as their ports are listened to. To be called before the ports are looked for. With the same players again it changes nothing. */
  start(show: Show): void {
    const players = JSON.stringify(show.players)
    if (!this.#file || players === this.#players) return
    this.#players = players
    this.#rest()
    this.#take = demoTake(this.#file, show)
    this.#remark(this.#take.warnings)
    const used = new Set(this.#take.moments.flatMap(({ sent }) => sent.map(({ port }) => port)))
    this.#plug(new Set(show.players.flatMap(({ input: { port } }) => (used.has(port) ? [port] : []))))
    if (this.#instruments.size === 0) this.#remark(['nothing in the take is for a player of this show'])
    if (!this.#isAsleep) this.#begin()
  }

  /** All that is held ends; nothing is played until `awake`. */
  sleep(): void {
    this.#isAsleep = true
    this.#rest()
  }

  /** From the top. */
  awake(): void {
    if (!this.#isAsleep) return
    this.#isAsleep = false
    this.#begin()
  }

  /** For good; their ports are gone. */
  stop(): void {
    this.#rest()
    this.#plug(new Set())
    this.#memory.close()
  }

  /** Ports that stay keep who listens to them. */
  #plug(names: ReadonlySet<string>): void {
    for (const [name, { device }] of this.#instruments) {
      if (names.has(name)) continue
      this.#memory.pull('input', device)
      this.#instruments.delete(name)
    }
    for (const name of names) {
      if (this.#instruments.has(name)) continue
      this.#instruments.set(name, { device: this.#memory.plug('input', name), held: new HeldNotes() })
    }
  }

  #begin(): void {
    const { timers } = this.#options.machine
    this.#cancel()
    if (this.#instruments.size > 0) this.#await(timers.now() + LONGEST_WAIT)
  }

  #await(until: Micros): void {
    const { timers } = this.#options.machine
    const now = timers.now()
    const isHeard = [...this.#instruments.values()].every(({ device }) => device.ears.size > 0)
    if (isHeard || now >= until) return this.#fromTheTop(now)
    this.#cancel = timers.at(now + LOOK_EVERY, () => this.#await(until))
  }

  #fromTheTop(at: Micros): void {
    this.#begun = at
    this.#next = 0
    this.#waitForNext()
  }

  #waitForNext(): void {
    const take = this.#take
    if (!take) return
    const { timers } = this.#options.machine
    const moment = take.moments[this.#next]
    const due = this.#begun + (moment?.at ?? take.endsAt)
    this.#cancel = timers.at(due, () => {
      const now = timers.now()
      if (now - due > SLEPT) {
        this.#endHeld()
        return this.#fromTheTop(now)
      }
      if (moment) {
        this.#next++
        for (const { port, message } of moment.sent) this.#play(port, message)
        return this.#waitForNext()
      }
      this.#endHeld()
      const again = this.#begun + take.period
      this.#cancel = timers.at(again, () =>
        this.#fromTheTop(timers.now() - again > SLEPT ? timers.now() : again),
      )
    })
  }

  #play(port: string, message: MidiMessage): void {
    const instrument = this.#instruments.get(port)
    if (!instrument) return
    instrument.held.note(message)
    deliver(instrument, message)
  }

  #rest(): void {
    this.#cancel()
    this.#endHeld()
  }

  #endHeld(): void {
    for (const instrument of this.#instruments.values())
      for (const message of instrument.held.end()) deliver(instrument, message)
  }

  #remark(remarks: readonly string[]): void {
    const more = remarks.length - MOST_REMARKS
    const told = [
      ...remarks.slice(0, MOST_REMARKS),
      ...(more > 0 ? [`${more} more remarks on the take`] : []),
    ]
    for (const message of told)
      this.#options.report({ level: 'warning', source: 'take', code: 'take', message })
  }
}

/** A port hears one message at a time; a parameter is several controllers. */
function deliver({ device }: Instrument, message: MidiMessage): void {
  const bytes = Uint8Array.from(encode(message))
  if (message.type !== 'parameter') return device.deliver(bytes)
  for (let at = 0; at < bytes.length; at += 3) device.deliver(bytes.subarray(at, at + 3))
}
