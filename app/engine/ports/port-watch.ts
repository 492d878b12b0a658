import { failed, RESTED } from './backoff.ts'
import type { Backoff } from './backoff.ts'
import { heldPlaces } from './held-places.ts'
import { asMidiError } from './midi-error.ts'
import type { MidiError } from './midi-error.ts'
import type { MidiInputPort, MidiOutputPort, MidiSystem, PortWay } from './midi-system.ts'
import { realTimer } from './poll-timer.ts'
import type { Millis, PollTimer } from './poll-timer.ts'
import type { PortChange, PortEvent } from './port-event.ts'
import { counts, portFates } from './port-fate.ts'
import { matchPort, rememberPort, sameBare } from './port-match.ts'
import type { PortMatch } from './port-match.ts'
import { shownName } from './port-name.ts'
import { newSlot } from './port-slot.ts'
import type { Held, Slot, WantedPort } from './port-slot.ts'

export interface PortWatchOptions {
  readonly system: MidiSystem
  /** Hears each change once, after the watch has settled: it may call the watch. */
  readonly report: (event: PortEvent) => void
  /** Between two looks; 500 by default. */
  readonly period?: Millis
  readonly timer?: PollTimer
}

/** What was under way when a device vanished may still arrive just after; it proves nothing. */
const STALE: Millis = 50

interface Look {
  before: readonly string[]
  failures: number
  backoff: Backoff
  /** Why the last look failed. */
  trouble: string
}

/** Keeps wanted ports open while their devices come and go, looking at the system's lists once a period. */
export class PortWatch {
  readonly #system: MidiSystem
  readonly #report: (event: PortEvent) => void
  readonly #period: Millis
  readonly #timer: PollTimer
  readonly #slots = new Map<string, Slot>()
  readonly #looks: Record<PortWay, Look> = {
    input: { before: [], failures: 0, backoff: RESTED, trouble: '' },
    output: { before: [], failures: 0, backoff: RESTED, trouble: '' },
  }
  readonly #events: PortEvent[] = []
  #busy = false
  #stopped = false
  #cancel: (() => void) | undefined

  constructor({ system, report, period = 500, timer = realTimer }: PortWatchOptions) {
    this.#system = system
    this.#report = report
    this.#period = period
    this.#timer = timer
  }

  /** Looks at once, and again each period until `stop`. */
  start(): void {
    if (this.#cancel !== undefined || this.#stopped) return
    this.#tick()
  }

  /** Closes all ports; reports nothing. What was sent has left. */
  stop(): void {
    this.#stopped = true
    this.#cancel?.()
    this.#cancel = undefined
    for (const slot of this.#slots.values()) this.#close(slot)
    this.#slots.clear()
    this.#events.length = 0
  }

  /** Wants a port from now on, instead of what had its key. Looked for at once if started, else at the next `poll`. */
  want(wanted: WantedPort): void {
    this.unwant(wanted.key)
    this.#slots.set(wanted.key, newSlot(wanted))
    if (this.#cancel !== undefined) this.poll()
  }

  /** Closes it, reports nothing. */
  unwant(key: string): void {
    const slot = this.#slots.get(key)
    if (slot === undefined) return
    this.#close(slot)
    this.#slots.delete(key)
  }

  /** True when the bytes went to an open port. A port that breaks while sending is `lost` at once. */
  send(key: string, bytes: Uint8Array): boolean {
    const slot = this.#slots.get(key)
    const port = slot?.held?.port
    if (slot === undefined || port === undefined || !('send' in port)) return false
    try {
      port.send(bytes)
      return true
    } catch (thrown) {
      this.#settled(() => this.#lose(slot, asMidiError(thrown, 'gone', 'sending failed').message))
      return false
    }
  }

  isOpen(key: string): boolean {
    return this.#slots.get(key)?.status === 'open'
  }

  /** Which places of a list, just asked of the system, are open here. */
  openPlaces(way: PortWay, list: readonly string[]): ReadonlySet<number> {
    const slots = [...this.#slots.values()].filter((slot) => slot.way === way)
    return new Set(heldPlaces(slots, list).values())
  }

  /**
   * Answers an `ambiguous` event: the wanted port is the one at `place` of the list that the event was about. False when it
   * cannot be: the list has changed since (a new `ambiguous` follows if it is still one), or another wanted port has that place.
   */
  choose(key: string, place: number): boolean {
    const slot = this.#slots.get(key)
    if (slot === undefined) return false
    const told = this.#looks[slot.way].before
    this.poll()
    const list = this.#looks[slot.way].before
    const same = list.length === told.length && list.every((name, at) => name === told[at])
    if (!same || list[place] === undefined || slot.status !== 'ambiguous') return false
    let chosen = false
    this.#settled(() => {
      chosen = this.#chosen(slot, place, list)
    })
    return chosen
  }

  /** One look at the system. */
  poll(): void {
    if (this.#stopped) return
    this.#settled(() => {
      this.#look('input')
      this.#look('output')
    })
  }

  /**
   * After a sleep: lets every port go and looks for all of them at once, whatever they waited for. A device that was plugged in anew meanwhile looks as before
   * in the list, and its old port is dead. Before `start` nothing happens.
   */
  lookAnew(): void {
    if (this.#cancel === undefined) return
    for (const look of Object.values(this.#looks)) look.backoff = RESTED
    for (const slot of this.#slots.values()) {
      slot.backoff = RESTED
      if (slot.held === undefined) continue
      this.#close(slot)
      slot.status = 'new'
    }
    this.poll()
  }

  #tick(): void {
    try {
      this.poll()
    } finally {
      if (!this.#stopped) this.#cancel = this.#timer.after(this.#period, () => this.#tick())
    }
  }

  /** Runs a change of state to its end, and only then tells of it. */
  #settled(change: () => void): void {
    if (this.#busy) return
    this.#busy = true
    try {
      change()
    } finally {
      this.#busy = false
    }
    for (let event = this.#events.shift(); event !== undefined; event = this.#events.shift())
      this.#report(event)
  }

  #look(way: PortWay): void {
    const look = this.#looks[way]
    const slots = [...this.#slots.values()].filter((slot) => slot.way === way)
    if (slots.length === 0) return
    if (this.#timer.now() < look.backoff.due) {
      for (const slot of slots) if (slot.status === 'new') this.#unavailable(slot, look.trouble)
      return
    }
    let list: readonly string[]
    try {
      list = way === 'input' ? this.#system.inputs() : this.#system.outputs()
    } catch (thrown) {
      this.#blind(look, slots, asMidiError(thrown, 'unavailable', 'the MIDI ports cannot be listed'))
      return
    }
    look.failures = 0
    look.backoff = RESTED
    this.#follow(slots, look.before, list)
    look.before = [...list]
    for (const slot of slots) if (slot.held === undefined) this.#find(slot, slots, list)
  }

  /** The list cannot be had. Once may be a hiccup while devices change; ports that are open go on. */
  #blind(look: Look, slots: readonly Slot[], error: MidiError): void {
    look.failures += 1
    if (look.failures < 2 && slots.some((slot) => slot.held !== undefined)) return
    look.backoff = failed(look.backoff, this.#timer.now())
    look.before = []
    look.trouble = error.message
    for (const slot of slots) {
      if (slot.held !== undefined) this.#lose(slot, error.message)
      this.#unavailable(slot, error.message)
    }
  }

  #unavailable(slot: Slot, message: string): void {
    this.#become(slot, 'unavailable', { kind: 'unavailable', message })
  }

  /** What became of the ports that are open. */
  #follow(slots: readonly Slot[], before: readonly string[], list: readonly string[]): void {
    const places = heldPlaces(slots, before)
    const order = [...places.keys()].sort((a, b) => (places.get(a) ?? 0) - (places.get(b) ?? 0))
    const open = [...order, ...slots.filter((slot) => slot.held !== undefined && !places.has(slot))]
    const fates = portFates(
      open.map((slot) => slot.held?.name ?? ''),
      before,
      list,
    )
    const was = counts(before)
    const is = counts(list)
    for (const [index, slot] of open.entries()) {
      const fate = fates[index]
      const { held } = slot
      if (fate === undefined || held === undefined) continue
      // While an equal one is away, a new count may be its own return, and this one pulled.
      const isExchanged =
        fate.kind === 'stays' &&
        fate.name !== held.name &&
        sameBare(held.name, before).length < (slot.remembered.of ?? 0)
      if (fate.kind === 'lost' || isExchanged) this.#lose(slot, goneWords(slot, held))
      else if (fate.kind === 'doubt') this.#doubt(slot, held, was.get(held.name) ?? 0, list)
      else held.name = fate.name
      // All of the name are back: whichever was pulled, the order says again which is which.
      if (held.doubt !== undefined && (is.get(held.name) ?? 0) >= held.doubt.whole) this.#close(slot)
    }
  }

  #doubt(slot: Slot, held: Held, whole: number, list: readonly string[]): void {
    if (held.doubt !== undefined) return
    held.doubt = { whole, since: this.#timer.now() }
    this.#tell(slot, { kind: 'lost', name: held.name, message: goneWords(slot, held) })
    const places = [...list.keys()].filter((place) => list[place] === held.name)
    this.#ask(
      slot,
      places,
      list,
      `One of ${whole} ports called "${held.name}" is gone, and the system does not say which. ` +
        `Is the one that is left the port of "${slot.wanted.key}"? Choose it if it is, play on it, or plug the other one in again.`,
    )
  }

  #find(slot: Slot, slots: readonly Slot[], list: readonly string[]): void {
    const taken = new Set(heldPlaces(slots, list).values())
    const match = this.#match(slot, list, taken)
    if (match.kind === 'found') {
      if (this.#timer.now() >= slot.backoff.due) this.#open(slot, match.place, list)
      return
    }
    slot.backoff = RESTED
    if (match.kind === 'ambiguous') this.#ask(slot, match.places, list, match.question)
    else this.#miss(slot, this.#match(slot, list, new Set()).kind !== 'missing')
  }

  #match(slot: Slot, list: readonly string[], taken: ReadonlySet<number>): PortMatch {
    const match = matchPort(slot.remembered, list, taken)
    return match.kind === 'missing' ? matchPort(slot.wanted.port, list, taken) : match
  }

  #chosen(slot: Slot, place: number, list: readonly string[]): boolean {
    const name = list[place] ?? ''
    const { held } = slot
    if (held !== undefined) {
      if (held.name !== name || held.doubt === undefined) return false
      this.#prove(slot, held)
      return true
    }
    const slots = [...this.#slots.values()].filter((other) => other.way === slot.way)
    for (const [other, at] of heldPlaces(slots, list)) {
      if (at !== place) continue
      if (other.held?.doubt === undefined) return false
      this.#close(other)
      this.#miss(other)
    }
    slot.backoff = RESTED
    this.#open(slot, place, list)
    return slot.held !== undefined
  }

  #open(slot: Slot, place: number, list: readonly string[]): void {
    let port: MidiInputPort | MidiOutputPort
    try {
      port = this.#openPort(slot, place)
    } catch (thrown) {
      this.#refused(slot, asMidiError(thrown, 'busy', 'the port cannot be opened'))
      return
    }
    const name = list[place] ?? port.name
    slot.held = { port, name, doubt: undefined }
    slot.backoff = RESTED
    const found = rememberPort(list, place)
    // While some of its name are missing, its rank among all of them is still what it was.
    if ((slot.remembered.of ?? 0) <= (found.of ?? 0)) slot.remembered = found
    this.#opened(slot, slot.held)
  }

  #openPort(slot: Slot, place: number): MidiInputPort | MidiOutputPort {
    const { wanted } = slot
    if (wanted.way === 'output') return this.#system.openOutput(place)
    let mine: MidiInputPort | undefined
    const port = this.#system.openInput(place, (bytes) => {
      const { held } = slot
      if (held === undefined || held.port !== mine) return
      if (held.doubt !== undefined && this.#timer.now() - held.doubt.since >= STALE) {
        this.#settled(() => this.#prove(slot, held))
      }
      wanted.heard(bytes)
    })
    mine = port
    return port
  }

  /** A port in doubt is the one that is left. */
  #prove(slot: Slot, held: Held): void {
    held.doubt = undefined
    this.#opened(slot, held)
    const left = this.#looks[slot.way].before.filter((name) => name === held.name).length
    const same = [...this.#slots.values()].filter(
      (other) => other.way === slot.way && other.held?.name === held.name,
    )
    const proven = same.filter((other) => other.held?.doubt === undefined)
    if (proven.length < left) return
    for (const other of same) {
      if (other.held?.doubt === undefined) continue
      this.#close(other)
      this.#miss(other)
    }
  }

  #opened(slot: Slot, held: Held): void {
    const kind = slot.wasOpen ? 'returned' : 'opened'
    slot.wasOpen = true
    slot.status = 'open'
    this.#tell(slot, { kind, name: shownName(held.name), port: slot.remembered })
  }

  #refused(slot: Slot, { kind, message }: MidiError): void {
    if (kind === 'gone') {
      this.#miss(slot)
      return
    }
    slot.backoff = failed(slot.backoff, this.#timer.now())
    const status = kind === 'busy' ? 'busy' : 'unavailable'
    this.#become(slot, status, { kind: status, message })
  }

  #ask(slot: Slot, places: readonly number[], list: readonly string[], question: string): void {
    const names = places.map((place) => list[place] ?? '')
    this.#become(
      slot,
      'ambiguous',
      { kind: 'ambiguous', places, names, question },
      `${places.join()} ${names.join('\n')}`,
    )
  }

  #miss(slot: Slot, taken = false): void {
    if (slot.status === 'lost') return
    const name = `MIDI ${slot.way} "${shownName(slot.wanted.port.name)}"`
    const message = taken
      ? `The ${name} of "${slot.wanted.key}" is already open under another name of the show. Give each its own port.`
      : `The ${name} is not there. Plug it in and switch it on, or choose another port in the show.`
    this.#become(slot, 'missing', { kind: 'missing', message })
  }

  #lose(slot: Slot, message: string): void {
    const { held, status } = slot
    if (held === undefined) return
    this.#close(slot)
    // In doubt it was told already.
    if (held.doubt !== undefined) this.#miss(slot)
    else if (status === 'open') {
      slot.status = 'lost'
      this.#tell(slot, { kind: 'lost', name: shownName(held.name), message })
    }
  }

  /** Tells of a change of status, or of a new question. */
  #become(slot: Slot, status: Slot['status'], change: PortChange, question = ''): void {
    if (slot.status === status && slot.asked === question) return
    slot.status = status
    slot.asked = question
    this.#tell(slot, change)
  }

  #tell(slot: Slot, change: PortChange): void {
    this.#events.push({ wanted: slot.wanted.key, way: slot.way, ...change })
  }

  #close(slot: Slot): void {
    const port = slot.held?.port
    slot.held = undefined
    port?.close()
  }
}

function goneWords(slot: Slot, held: Held): string {
  const rest = slot.way === 'input' ? 'its notes are released' : 'nothing can be sent to it'
  return `The MIDI ${slot.way} "${shownName(held.name)}" is gone; ${rest}. It is taken up again when it is back.`
}
