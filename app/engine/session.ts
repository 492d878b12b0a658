import type { FromEngine, PortStatus } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { PlayerId, SongId } from '../../src/domain/ids.ts'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import type { MidiOutput, SerialOutput } from '../../src/domain/rig.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Graph } from '../../src/graph/graph.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import type { OutputLamp } from '../../src/outputs/encoder-event.ts'
import { Histogram } from './histogram.ts'
import { lampStatus } from './lamp-status.ts'
import { LoopGuard } from './loop-guard.ts'
import type { Machine } from './machine.ts'
import { MidiOut } from './midi-out.ts'
import type { PortEvent } from './ports/port-event.ts'
import { PortWatch } from './ports/port-watch.ts'
import { SerialDriver } from './ports/serial-driver.ts'
import type { SerialDriverEvent } from './ports/serial-driver-event.ts'
import type { Place } from './set-list.ts'
import { SetListWalk } from './set-list.ts'

export interface SessionOptions {
  readonly show: Show
  readonly place: Place
  /** An engine before this one may have left lamps lit. */
  readonly recover: boolean
  readonly machine: Machine
  readonly say: (message: FromEngine) => void
}

/** A step taken later than this is counted as late. */
const LATE: Micros = 1_000
/** A machine that was away for longer slept: what was due meanwhile is not made up for. */
const SLEPT: Micros = 2_000_000
/** How long MIDI waits at most for the lamp boxes to answer. */
const BOXES_FIRST: Micros = 300_000
/** On some systems a port that has just been opened loses what is sent at once; its greeting waits for so long. */
const CONNECTS: Micros = 20_000
/** What was said before leaves within this time, also where MIDI then holds us up. */
const MESSAGES_FIRST: Micros = 5_000
const LAMPS_EVERY: Micros = 33_000
const FIGURES_EVERY: Micros = 1_000_000

/** One show being played: the graph, the ports it listens and speaks to, and the account of how it goes. */
export class Session {
  readonly #show: Show
  readonly #machine: Machine
  readonly #say: (message: FromEngine) => void
  readonly #recover: boolean
  readonly #walk: SetListWalk
  #graph: Graph
  readonly #inputs: PortWatch
  readonly #outputs: PortWatch
  readonly #midiOuts = new Map<string, MidiOut>()
  readonly #drivers = new Map<string, SerialDriver>()
  /** Players by the key of the port they listen to. */
  readonly #listeners = new Map<string, PlayerId[]>()
  readonly #loops: LoopGuard
  readonly #latency = new Histogram()
  readonly #lateness = new Histogram()
  readonly #counts = new Map<string, number>()
  #areLampsNew = true
  #cancelMidi = (): void => {}
  #cancelLamps = (): void => {}
  #cancelFigures = (): void => {}
  #due: Micros = Infinity
  /** When the packet came in that is being handled. */
  #heardAt: Micros | undefined
  #isOver = false

  constructor({ show, place, recover, machine, say }: SessionOptions) {
    this.#show = show
    this.#machine = machine
    this.#say = say
    this.#recover = recover
    this.#walk = new SetListWalk(show, place)
    this.#loops = new LoopGuard(process.pid & 0x3fff)
    const timer = machine.pollTimer ? { timer: machine.pollTimer } : {}
    this.#inputs = new PortWatch({
      system: machine.midiIn,
      report: (event) => this.#inputEvent(event),
      ...timer,
    })
    this.#outputs = new PortWatch({
      system: machine.midiOut,
      report: (event) => this.#outputEvent(event),
      ...timer,
    })
    this.#graph = this.#makeGraph(place.song)
    for (const player of show.players) {
      const key = inputKey(player.input.port)
      this.#listeners.set(key, [...(this.#listeners.get(key) ?? []), player.id])
    }
    for (const output of show.rig.outputs) {
      if (output.kind === 'serial') this.#drivers.set(output.id, this.#makeDriver(output))
      else this.#midiOuts.set(output.id, new MidiOut((bytes) => this.#outputs.send(output.id, bytes)))
    }
  }

  get place(): Place {
    return this.#walk.place
  }

  start(): void {
    this.#graph.advance(Math.max(this.#graph.now, this.#machine.clock.now()))
    for (const output of this.#show.rig.outputs) {
      if (output.kind !== 'midi') continue
      this.#outputs.want({ key: output.id, way: 'output', port: { name: output.port } })
    }
    for (const key of this.#listeners.keys()) {
      const heard = (bytes: Uint8Array): void => this.#hear(key, bytes)
      this.#inputs.want({ key, way: 'input', port: { name: portOfKey(key) }, heard })
    }
    for (const driver of this.#drivers.values()) driver.start()
    // Opening MIDI may hold everything up for a second or two on a system in trouble; the lamp boxes go first.
    this.#startMidiIn(this.#drivers.size > 0 ? BOXES_FIRST : MESSAGES_FIRST)
    this.#tellLamps()
    this.#tellFigures()
  }

  /** Outputs first, so that lamps are there before somebody plays. */
  #startMidiIn(wait: Micros): void {
    const { timers } = this.#machine
    this.#cancelMidi()
    this.#cancelMidi = timers.at(timers.now() + wait, () => {
      this.#outputs.start()
      this.#inputs.start()
    })
  }

  /** `position`: which of the song's places in the set list is meant. Throws a RangeError for a song that the show has not. */
  changeSong(song: SongId, position?: number): void {
    if (!this.#show.songs.some(({ id }) => id === song))
      throw new RangeError(`the show has no song "${song}"`)
    this.#goTo(this.#walk.placeOf(song, position))
  }

  /** To the next or previous place of the set list; at its ends nothing happens. */
  go(to: 'next' | 'previous'): void {
    const place = this.#walk.neighbour(to)
    if (place) this.#goTo(place)
  }

  #goTo(place: Place): void {
    this.#walk.go(place)
    this.#guarded(() => this.#graph.changeSong(place.song, this.#time()))
    this.#say({ v: CONTRACT_VERSION, type: 'song', ...place })
  }

  /** Every output dark at once, by its own account, whatever the graph is doing; then the graph. */
  darkAll(): void {
    for (const driver of this.#drivers.values()) driver.darkAll()
    for (const out of this.#midiOuts.values()) out.darkNow()
    this.#guarded(() => this.#graph.darkAll(this.#time()))
    this.#say({ v: CONTRACT_VERSION, type: 'dark' })
  }

  choosePort(port: string, place: number): void {
    const key = this.#midiOuts.has(port) ? port : this.#keyOfPlayer(port)
    const watch = this.#midiOuts.has(port) ? this.#outputs : this.#inputs
    if (key === undefined || !watch.choose(key, place)) {
      this.#report('warning', port, 'no-choice', 'that port cannot be chosen now; look at the list again')
    }
  }

  listenAgain(port: string): void {
    const key = this.#keyOfPlayer(port)
    if (key === undefined) return
    this.#loops.forgive(key)
    this.#inputStatus(key, 'open', `listening to ${portOfKey(key)} again`)
  }

  /** Darkens, waits (bounded) until the offs have left, lets the ports go. Resolves to whether all boxes said so. */
  async stop(): Promise<boolean> {
    if (this.#isOver) return true
    this.#isOver = true
    this.#machine.clock.stop()
    this.#cancelMidi()
    this.#cancelLamps()
    this.#cancelFigures()
    this.darkAll()
    const wereReady = [...this.#drivers.values()].filter(({ state }) => state === 'ready')
    await Promise.all([...this.#drivers.values()].map((driver) => driver.close()))
    this.#inputs.stop()
    this.#outputs.stop()
    this.#graph.dispose()
    return wereReady.every(({ depth }) => depth.bytes === 0)
  }

  #makeGraph(song: SongId): Graph {
    const serial = this.#show.rig.outputs.filter(({ kind }) => kind === 'serial')
    const linked = new Set(serial.map(({ id }) => id))
    const graph = new Graph({ show: this.#show, song, linked })
    graph.tap$.subscribe((event) => this.#watch(event))
    return graph
  }

  #makeDriver(output: SerialOutput): SerialDriver {
    return new SerialDriver({
      output,
      lamps: this.#lampsOf(output.id),
      system: this.#machine.serial,
      timers: this.#machine.timers,
      taken: () =>
        [...this.#drivers].flatMap(([id, driver]) => (id !== output.id && driver.path ? [driver.path] : [])),
      onEvent: (event) => this.#driverEvent(output, event),
      setTimer: (timer) => this.#guarded(() => this.#graph.setTimer(output.id, timer, this.#time())),
    })
  }

  #lampsOf(output: string): OutputLamp[] {
    return this.#show.rig.lamps.flatMap((lamp, index) =>
      lamp.output === output ? [{ index, slot: lamp.slot }] : [],
    )
  }

  // Time.

  /** Now, on the graph's clock, later than everything it has done: packets never share a moment. */
  #time(): Micros {
    return Math.max(this.#machine.clock.now(), this.#graph.now + 1)
  }

  #wake(): void {
    const due = this.#due
    this.#due = Infinity
    if (this.#isOver) return
    const now = this.#machine.clock.now()
    const late = now - due
    this.#lateness.add(Math.max(0, late))
    if (late > SLEPT) {
      this.#report(
        'warning',
        'engine',
        'slept',
        `the machine was away for ${(late / 1e6).toFixed(1)} s; all lamps dark`,
      )
      this.darkAll()
    } else {
      if (late > LATE) this.#count('late wakes')
      this.#guarded(() => this.#graph.advance(Math.max(now, this.#graph.now)))
    }
    this.#sleep()
  }

  #sleep(): void {
    if (this.#isOver) return
    const due = this.#graph.nextDue
    if (due === this.#due) return
    this.#due = due
    this.#machine.clock.callAt(due, () => this.#wake())
  }

  /** Runs what the graph does; a graph that throws is broken: lamps dark, and a new one. */
  #guarded(work: () => void): void {
    try {
      work()
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      this.#report('fault', 'engine', 'graph-failed', `${message}; all lamps dark, starting the song again`)
      for (const driver of this.#drivers.values()) driver.darkAll()
      for (const out of this.#midiOuts.values()) out.darkNow()
      const { song } = this.#graph
      this.#graph.dispose()
      this.#graph = this.#makeGraph(song)
      this.#graph.advance(this.#machine.clock.now())
      for (const id of this.#midiOuts.keys()) this.#graph.reopen(id, this.#time())
    }
    this.#sleep()
  }

  // In.

  #hear(key: string, bytes: Uint8Array): void {
    if (this.#isOver) return
    const now = this.#machine.clock.now()
    const verdict = this.#loops.heard(key, bytes, now)
    if (verdict.kind === 'probe')
      for (const id of this.#midiOuts.keys()) this.#outputs.send(id, verdict.bytes)
    if (verdict.kind === 'cut') this.#cut(key)
    if (verdict.kind === 'probe-returned' || this.#loops.isCut(key)) return
    this.#heardAt = now
    this.#guarded(() => {
      const at = this.#time()
      for (const player of this.#listeners.get(key) ?? []) this.#graph.play(player, bytes, at)
      this.#graph.advance(at)
    })
    this.#heardAt = undefined
  }

  #cut(key: string): void {
    const message = `${portOfKey(key)}: our own output comes back in; not listening to it until the loop is undone`
    this.#count('loops')
    this.#inputStatus(key, 'cut', message)
    this.#silence(key)
  }

  #silence(key: string): void {
    for (const player of this.#listeners.get(key) ?? []) {
      this.#guarded(() => this.#graph.silence(player, this.#time()))
    }
  }

  #inputEvent(event: PortEvent): void {
    const key = event.wanted
    if (event.kind === 'lost') this.#silence(key)
    if (event.kind === 'opened' || event.kind === 'returned') this.#loops.forgive(key)
    const { state, message } = portState(event)
    this.#inputStatus(key, state, message)
  }

  #inputStatus(key: string, state: PortStatus['state'], message: string): void {
    for (const id of this.#listeners.get(key) ?? []) {
      this.#say({
        v: CONTRACT_VERSION,
        type: 'port',
        port: { id, kind: 'midi-in', name: portOfKey(key), state, message },
      })
    }
  }

  #keyOfPlayer(player: string): string | undefined {
    return [...this.#listeners].find(([, players]) => players.includes(player))?.[0]
  }

  // Out.

  #watch(event: TapEvent): void {
    switch (event.kind) {
      case 'frame':
        return this.#frame(event.changes)
      case 'bytes': {
        this.#midiOuts.get(event.output)?.send(event.bytes)
        const now = this.#machine.clock.now()
        this.#loops.sent(event.bytes, now)
        if (this.#heardAt !== undefined) this.#latency.add(now - this.#heardAt)
        return
      }
      case 'diagnostic':
        return this.#say({
          v: CONTRACT_VERSION,
          type: 'diagnostic',
          at: event.at,
          diagnostic: event.diagnostic,
        })
      case 'refused':
        return this.#count('refused')
      case 'steal':
        return this.#count('steals')
      case 'exceeded':
        return this.#count('supply over its limit')
      case 'heard':
        if (event.message.type === 'note-on') this.#count('notes in')
        return
      case 'player':
        return
    }
  }

  #frame(changes: readonly LampChange[]): void {
    this.#areLampsNew = true
    if (this.#drivers.size === 0) return
    for (const driver of this.#drivers.values()) driver.changes(changes)
    if (this.#heardAt !== undefined) this.#latency.add(this.#machine.clock.now() - this.#heardAt)
  }

  #outputEvent(event: PortEvent): void {
    const output = this.#show.rig.outputs.find(({ id }) => id === event.wanted)
    if (output?.kind !== 'midi') return
    if (event.kind === 'opened' || event.kind === 'returned') {
      const isFirst = event.kind === 'opened'
      const { timers } = this.#machine
      timers.at(timers.now() + CONNECTS, () => this.#greet(output, isFirst))
    }
    const { state, message } = portState(event)
    const port: PortStatus = { id: output.id, kind: 'midi-out', name: output.port, state, message }
    this.#say({ v: CONTRACT_VERSION, type: 'port', port })
  }

  #greet(output: MidiOutput, isFirst: boolean): void {
    if (this.#isOver) return
    if (isFirst && this.#recover) this.#recoverOutput(output)
    this.#guarded(() => this.#graph.reopen(output.id, this.#time()))
  }

  #recoverOutput(output: MidiOutput): void {
    const slots = this.#lampsOf(output.id).map(({ slot }) => slot)
    this.#midiOuts.get(output.id)?.recover(output, slots)
  }

  #driverEvent(output: SerialOutput, event: SerialDriverEvent): void {
    const status = (state: PortStatus['state'], message: string): void => {
      const port: PortStatus = { id: output.id, kind: 'serial', name: output.port, state, message }
      this.#say({ v: CONTRACT_VERSION, type: 'port', port })
    }
    switch (event.kind) {
      case 'opened':
        return status(
          'open',
          event.moved
            ? `found again at ${event.path}; greeting the lamp box`
            : `${event.path} is open; greeting the lamp box`,
        )
      case 'ready':
        if ([...this.#drivers.values()].every(({ state }) => state === 'ready'))
          this.#startMidiIn(MESSAGES_FIRST)
        return status('ready', event.again ? 'the lamp box is back' : 'the lamp box answers')
      case 'lost':
        return status('lost', event.reason)
      case 'not-open':
        return status(notOpenState(event.fault), event.message)
      case 'identity':
        if (event.differs !== undefined) this.#report('warning', output.id, 'box-differs', event.differs)
        return
      case 'fault':
        return this.#report('fault', output.id, 'link', event.message)
      case 'count':
        return this.#count(`box ${event.what}`)
      case 'latency':
      case 'learned':
        return
    }
  }

  // Account.

  #count(what: string): void {
    this.#counts.set(what, (this.#counts.get(what) ?? 0) + 1)
  }

  #report(level: 'info' | 'warning' | 'fault', source: string, code: string, message: string): void {
    const at = this.#machine.clock.now()
    this.#say({ v: CONTRACT_VERSION, type: 'diagnostic', at, diagnostic: { level, source, code, message } })
  }

  #tellLamps(): void {
    const { timers, clock } = this.#machine
    if (this.#areLampsNew) {
      this.#areLampsNew = false
      const lamps = this.#show.rig.lamps.map(({ id }, index) =>
        lampStatus(id, this.#graph.lamps[index] ?? { on: false }),
      )
      this.#say({ v: CONTRACT_VERSION, type: 'lamps', at: clock.now(), lamps })
    }
    this.#cancelLamps = timers.at(timers.now() + LAMPS_EVERY, () => this.#tellLamps())
  }

  #tellFigures(): void {
    const { timers, clock } = this.#machine
    const dropped = [...this.#midiOuts.values()].reduce((sum, out) => sum + out.dropped, 0)
    const depths = [...this.#drivers.values()].map(({ depth }) => depth)
    const counts = {
      ...Object.fromEntries(this.#counts),
      ...(dropped > 0 ? { 'dropped, port not there': dropped } : {}),
      ...(depths.length > 0 ? { 'frames waiting': depths.reduce((sum, { frames }) => sum + frames, 0) } : {}),
    }
    this.#say({
      v: CONTRACT_VERSION,
      type: 'figures',
      at: clock.now(),
      latency: this.#latency.spread(),
      latencyBins: this.#latency.bins(),
      lateness: this.#lateness.spread(),
      counts,
    })
    this.#cancelFigures = timers.at(timers.now() + FIGURES_EVERY, () => this.#tellFigures())
  }
}

function inputKey(port: string): string {
  return `in ${port}`
}

function portOfKey(key: string): string {
  return key.slice(3)
}

function portState(event: PortEvent): { readonly state: PortStatus['state']; readonly message: string } {
  switch (event.kind) {
    case 'opened':
      return { state: 'open', message: `${event.name} is open` }
    case 'returned':
      return { state: 'open', message: `${event.name} is back` }
    case 'ambiguous':
      return {
        state: 'ambiguous',
        message: `${event.question} ${event.places.map((place, index) => `${place}: ${event.names[index]}`).join(', ')}`,
      }
    case 'lost':
    case 'missing':
    case 'busy':
    case 'unavailable':
      return { state: event.kind, message: event.message }
  }
}

function notOpenState(fault: Extract<SerialDriverEvent, { kind: 'not-open' }>['fault']): PortStatus['state'] {
  switch (fault) {
    case 'absent':
      return 'missing'
    case 'busy':
      return 'busy'
    case 'ambiguous':
      return 'ambiguous'
    case 'permission':
    case 'failed':
      return 'unavailable'
  }
}
