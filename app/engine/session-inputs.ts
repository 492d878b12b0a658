import type { PortStatus } from '../../src/contract/from-engine.ts'
import type { PlayerId } from '../../src/domain/ids.ts'
import type { Player } from '../../src/domain/player.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { LoopGuard } from './loop-guard.ts'
import type { Machine } from './machine.ts'
import type { Monitor } from './monitor.ts'
import type { PortChoices } from './port-choices.ts'
import { portState } from './port-words.ts'
import type { PortEvent } from './ports/port-event.ts'
import { PortWatch } from './ports/port-watch.ts'
import type { Teller } from './teller.ts'

export interface SessionInputsOptions {
  readonly players: readonly Player[]
  /** The port whose clock is followed; a player may play on it too. */
  readonly clock?: string | undefined
  /** What comes in on it, before players hear it, and when. */
  readonly heardClock: (bytes: Uint8Array, at: Micros) => void
  /** That port is gone. */
  readonly clockGone: () => void
  readonly machine: Machine
  readonly loops: LoopGuard
  readonly teller: Teller
  readonly choices: PortChoices
  /** Bytes for players that listen to one port, and when they came. */
  readonly heard: (players: readonly PlayerId[], bytes: Uint8Array, at: Micros) => void
  /** Is told everything that comes in, also from a port that is cut. */
  readonly monitor?: Monitor | undefined
  /** What was played, and on which port, as the show calls it; after it has been played. */
  readonly overheard?: ((port: string, bytes: Uint8Array) => void) | undefined
  /** Their notes end. */
  readonly silence: (players: readonly PlayerId[]) => void
  /** Bytes to every MIDI output, to find out whether they come back. */
  readonly probe: (bytes: Uint8Array) => void
}

/** The ports that a show's players play on; players may share one. */
export class SessionInputs {
  readonly #options: SessionInputsOptions
  readonly #watch: PortWatch
  #isStarted = false
  #clockKey: string | undefined
  /** Players by the key of the port they listen to. */
  readonly #listeners = new Map<string, PlayerId[]>()

  constructor(options: SessionInputsOptions) {
    this.#options = options
    const { machine, players } = options
    this.#watch = new PortWatch({
      system: machine.midiIn,
      report: (event) => this.#event(event),
      ...(machine.pollTimer ? { timer: machine.pollTimer } : {}),
    })
    for (const { id, input } of players) {
      const key = inputKey(input.port)
      this.#listeners.set(key, [...(this.#listeners.get(key) ?? []), id])
    }
    if (options.clock !== undefined) {
      this.#clockKey = inputKey(options.clock)
      if (!this.#listeners.has(this.#clockKey)) this.#listeners.set(this.#clockKey, [])
    }
    for (const key of this.#listeners.keys()) {
      const heard = (bytes: Uint8Array): void => this.#hear(key, bytes)
      this.#watch.want({ key, way: 'input', port: { name: portOfKey(key) }, heard })
    }
  }

  start(): void {
    this.#isStarted = true
    this.#watch.start()
  }

  /** Closes all; reports nothing. */
  stop(): void {
    this.#watch.stop()
  }

  /** After a sleep: looks for all ports at once. */
  lookAnew(): void {
    this.#watch.lookAnew()
  }

  /** Which places of a list, just asked of the system, are open here. */
  openPlaces(list: readonly string[]): ReadonlySet<number> {
    return this.#watch.openPlaces('input', list)
  }

  has(player: string): boolean {
    return this.#keyOf(player) !== undefined
  }

  /** Answers which port is the player's; false where there is no such question now. Before `start` the answer waits for the question. */
  choose(player: string, place: number): boolean {
    if (!this.#isStarted) {
      this.#options.choices.give(player, place)
      return true
    }
    const key = this.#keyOf(player)
    return key !== undefined && this.#watch.choose(key, place)
  }

  /** Listens again to a port that was cut. */
  listenAgain(player: string): void {
    const key = this.#keyOf(player)
    if (key === undefined) return
    this.#options.loops.forgive(key)
    this.#status(key, 'open', `listening to ${portOfKey(key)} again`)
  }

  #hear(key: string, bytes: Uint8Array): void {
    const { loops, machine, heard, probe, monitor, overheard } = this.#options
    const now = machine.clock.now()
    const players = this.#listeners.get(key) ?? []
    if (monitor?.isOn) monitor.note({ kind: 'in', at: now, players, bytes })
    const verdict = loops.heard(key, bytes, now)
    if (verdict.kind === 'probe') probe(verdict.bytes)
    if (verdict.kind === 'cut') this.#cut(key)
    if (verdict.kind === 'probe-returned' || loops.isCut(key)) return
    if (key === this.#clockKey) this.#options.heardClock(bytes, now)
    if (players.length === 0) return
    heard(players, bytes, now)
    overheard?.(portOfKey(key), bytes)
  }

  #cut(key: string): void {
    const message = `${portOfKey(key)}: our own output comes back in; not listening to it until the loop is undone`
    this.#options.teller.count('loops')
    this.#status(key, 'cut', message)
    this.#silence(key)
  }

  #silence(key: string): void {
    this.#options.silence(this.#listeners.get(key) ?? [])
    if (key === this.#clockKey) this.#options.clockGone()
  }

  #event(event: PortEvent): void {
    const key = event.wanted
    if (event.kind === 'lost') this.#silence(key)
    if (event.kind === 'opened' || event.kind === 'returned') this.#options.loops.forgive(key)
    const chosen = this.#options.choices.take(this.#idsOf(key))
    if (event.kind === 'ambiguous' && chosen !== undefined && this.#watch.choose(key, chosen)) return
    const { state, message } = portState(event)
    this.#status(key, state, message)
  }

  #status(key: string, state: PortStatus['state'], message: string): void {
    for (const id of this.#idsOf(key))
      this.#options.teller.port({ id, kind: 'midi-in', name: portOfKey(key), state, message })
  }

  /** Whom a port is told of by: its players, and the clock. */
  #idsOf(key: string): string[] {
    const players = this.#listeners.get(key) ?? []
    return key === this.#clockKey ? [...players, CLOCK_PORT] : [...players]
  }

  #keyOf(player: string): string | undefined {
    if (player === CLOCK_PORT) return this.#clockKey
    return [...this.#listeners].find(([, players]) => players.some((id) => id === player))?.[0]
  }
}

/** What the port of the followed clock is called among ports; no player's id has a space. */
export const CLOCK_PORT = 'clock in'

function inputKey(port: string): string {
  return `in ${port}`
}

function portOfKey(key: string): string {
  return key.slice(3)
}
