import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngine } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Place } from '../../src/graph/set-list.ts'
import { firstPlace, revisedWalk, startWalk } from '../../src/graph/set-list.ts'
import type { ParsedShow } from '../../src/show/parse-show.ts'
import { parseShow, parseShowAgain } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { DemoPlayers } from './demo-players.ts'
import { Learner } from './learner.ts'
import type { Machine } from './machine.ts'
import { withVirtualRig } from './machine.ts'
import { Monitor } from './monitor.ts'
import { Session } from './session.ts'

export type LoadMessage = Extract<ToEngine, { type: 'load' }>
export type ReviseMessage = Extract<ToEngine, { type: 'revise' }>

/** Plays one show at a time, and takes edits of it. What it is asked while a promise of it is open is asked too early. */
export class ShowPlayer {
  readonly monitor: Monitor
  readonly learner: Learner
  readonly #machine: Machine
  readonly #say: (message: FromEngine) => void
  #session: Session | undefined
  #demo: DemoPlayers | undefined
  #load: LoadMessage | undefined
  /** Answers to which port is whose, for the session after the present one. */
  #choices = new Map<string, number>()
  #isOver = false

  constructor(machine: Machine, say: (message: FromEngine) => void) {
    this.#machine = machine
    this.#say = say
    const { timers, midiIn } = machine
    this.monitor = new Monitor(timers, say)
    this.learner = new Learner({ midiIn, held: (list) => this.#heldInputs(list), timers, say })
  }

  get session(): Session | undefined {
    return this.#session
  }

  /** The players in memory that play the show's take. */
  get demo(): DemoPlayers | undefined {
    return this.#demo
  }

  /** The machine's ports, and before them those of players in memory. */
  get machine(): Machine {
    return withDemo(this.#machine, this.#demo)
  }

  /** Lamps go dark, then the show plays. A show that cannot be read changes nothing. */
  async load(message: LoadMessage): Promise<void> {
    const { text, song, position, request } = message
    const show = this.#read(parseShow(text, strategies), request)
    if (!show) return
    const place = firstPlace(show, song, position)
    const songs = show.songs.map(({ id }) => id)
    if (!songs.includes(place.song)) {
      this.#failed(`the show has no song "${place.song}"; it has ${songs.join(', ')}`, request)
      return
    }
    const choices = new Map<string, number>()
    if (!(await this.#play(show, place, message, choices, this.#demoOf(message)))) return
    this.#choices = choices
    this.learner.stop()
    this.#loaded(show, request)
  }

  /** Edits of the show that plays, in the order they were made: the last that can be read counts, those after it are refused. */
  async revise(messages: readonly ReviseMessage[]): Promise<void> {
    for (const { text, request } of messages.toReversed()) {
      if (!this.#session || !this.#load) {
        this.#failed('no show is loaded that could be edited', request)
        continue
      }
      const show = this.#read(parseShowAgain(text, strategies), request)
      if (!show) continue
      const { place } = revisedWalk(show, startWalk(this.#session.place))
      const load = { ...this.#load, recover: false, request }
      const isPlayed =
        this.#session.revise(show) || (await this.#play(show, place, load, this.#choices, this.#demo))
      if (isPlayed) this.#loaded(show, request)
      if (isPlayed || this.#isOver) return
    }
  }

  choosePort(port: string, place: number): void {
    this.#choices.set(port, place)
    this.#session?.choosePort(port, place)
  }

  /** Darkens and ends. Resolves to whether every off has left. */
  async stop(): Promise<boolean> {
    this.#isOver = true
    this.learner.stop()
    this.#demo?.stop()
    return (await this.#session?.stop()) ?? true
  }

  #read(parsed: ParsedShow, request: number | undefined): Show | undefined {
    if (parsed.ok) return parsed.show
    this.#failed(formatFaults(parsed.faults), request)
    return undefined
  }

  /** A session of its own for the show, once the one before has gone dark and let its ports go. False where it could not be. */
  async #play(
    show: Show,
    place: Place,
    load: LoadMessage,
    choices: ReadonlyMap<string, number>,
    demo: DemoPlayers | undefined,
  ): Promise<boolean> {
    let session: Session
    try {
      session = new Session({
        show,
        place,
        recover: load.recover,
        machine: machineFor(show, load, withDemo(this.#machine, demo)),
        say: this.#say,
        choices,
        monitor: this.monitor,
        overheard: (port, bytes) => this.#overhear(port, bytes),
      })
    } catch (error) {
      this.#failed(error instanceof Error ? error.message : String(error), load.request)
      return false
    }
    const before = this.#session
    if (before) await before.stop()
    if (this.#isOver) return false
    this.#session = session
    this.#load = load
    if (demo !== this.#demo) this.#demo?.stop()
    this.#demo = demo
    this.learner.giveWay()
    if (before?.isAsleep) demo?.sleep()
    demo?.start(show)
    session.start()
    if (before?.isAsleep) session.sleep()
    return true
  }

  #demoOf({ take }: LoadMessage): DemoPlayers | undefined {
    if (take === undefined) return undefined
    const machine = this.#machine
    return new DemoPlayers({
      take,
      machine,
      report: (diagnostic) =>
        this.#say({ v: CONTRACT_VERSION, type: 'diagnostic', at: machine.clock.now(), diagnostic }),
    })
  }

  /** Of the machine's inputs. What players in memory play on is none of them, whatever it is called; and nobody learns from it. */
  #heldInputs(list: readonly string[]): ReadonlySet<number> {
    const held = [...(this.#session?.heldInputs(list) ?? [])]
    return new Set(held.filter((place) => !this.#demo?.plays(list[place] ?? '')))
  }

  #overhear(port: string, bytes: Uint8Array): void {
    if (this.learner.isOn && !this.#demo?.plays(port)) this.learner.heard(port, bytes)
  }

  #loaded(show: Show, request: number | undefined): void {
    const place = this.#session?.place
    if (!place) return
    const songs = show.songs.map(({ id }) => id)
    this.#say({
      v: CONTRACT_VERSION,
      type: 'loaded',
      title: show.title,
      ...place,
      songs,
      ...(request === undefined ? {} : { request }),
    })
  }

  #failed(message: string, request: number | undefined): void {
    this.#say({
      v: CONTRACT_VERSION,
      type: 'load-failed',
      message,
      ...(request === undefined ? {} : { request }),
    })
  }
}

function withDemo(machine: Machine, demo: DemoPlayers | undefined): Machine {
  return demo ? { ...machine, midiIn: demo.midiIn } : machine
}

function machineFor(show: Show, { rig }: LoadMessage, machine: Machine): Machine {
  return rig === 'virtual' ? withVirtualRig(machine, show) : machine
}
