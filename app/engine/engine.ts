import type { FromEngine } from '../../src/contract/from-engine.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import type { ToEngine } from '../../src/contract/to-engine.ts'
import { toEngine } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { SongAsk } from '../../src/graph/switching.ts'
import type { Channel } from './channel.ts'
import { listPorts } from './list-ports.ts'
import type { Machine } from './machine.ts'
import { ShowPlayer } from './show-player.ts'
import { SleepWatch } from './sleep-watch.ts'

/** Microseconds. */
const LIST_EVERY = 250_000

/** The engine: does what comes over a channel, and says over it what goes on. It knows no screen. */
export class Engine {
  readonly #channel: Channel
  readonly #ended: () => void
  readonly #player: ShowPlayer
  readonly #sleepWatch: SleepWatch | undefined
  /** What waits for its turn, since each may need a while, and bears on the next. */
  readonly #line: ToEngine[] = []
  #isBusy = false
  #isStopping = false
  #isListing = false
  #mustList = false

  /** `ended`: it has stopped, or the other end is gone; all that could be darkened is dark. */
  constructor(channel: Channel, machine: Machine, ended: () => void) {
    this.#channel = channel
    this.#ended = ended
    this.#player = new ShowPlayer(machine, (message) => this.#say(message))
    const { timers, uptime } = machine
    this.#sleepWatch = uptime && new SleepWatch(timers, uptime, (away) => this.#slept(away))
    channel.receive((raw) => this.#receive(raw))
    channel.closed(() => void this.#stop())
    this.#say({ v: CONTRACT_VERSION, type: 'hello', pid: process.pid })
  }

  /** Darkens and ends. */
  stop(): void {
    void this.#stop()
  }

  #say(message: FromEngine): void {
    this.#channel.send(message)
    if (message.type === 'diagnostic') this.#player.monitor.told(message)
  }

  #receive(raw: unknown): void {
    const read = readMessage(toEngine, raw)
    if (read.ok) this.#take(read.message)
    else this.#say({ v: CONTRACT_VERSION, type: 'not-understood', message: read.why })
  }

  /** Does at once what cannot wait; the rest in the order it came. */
  #take(message: ToEngine): void {
    switch (message.type) {
      case 'dark-all':
        return this.#player.session?.darkAll()
      case 'sleep':
        return this.#sleep()
      case 'awake':
        this.#sleepWatch?.renew()
        return this.#awake()
      case 'watch':
        return this.#player.monitor.watch(message.monitor)
      case 'list-ports':
        return void this.#listPorts()
      case 'ping':
        return this.#say({ v: CONTRACT_VERSION, type: 'alive', count: message.count })
      case 'stop':
        return this.stop()
      default:
        this.#line.push(message)
        void this.#work()
    }
  }

  #sleep(): void {
    this.#player.demo?.sleep()
    this.#player.session?.sleep()
  }

  #awake(): void {
    this.#player.session?.awake()
    this.#player.demo?.awake()
  }

  /** Nobody said that the machine would. */
  #slept(away: Micros): void {
    const { session } = this.#player
    if (!session || session.isAsleep) return
    const message = `the machine slept for ${(away / 1e6).toFixed(1)} s; all lamps dark`
    const diagnostic = { level: 'warning', source: 'engine', code: 'slept', message } as const
    this.#say({ v: CONTRACT_VERSION, type: 'diagnostic', at: this.#player.machine.clock.now(), diagnostic })
    this.#sleep()
    this.#awake()
  }

  async #work(): Promise<void> {
    if (this.#isBusy) return
    this.#isBusy = true
    for (let next = this.#line.shift(); next && !this.#isStopping; next = this.#line.shift()) {
      const done = this.#obey(next)
      if (done) await done
    }
    this.#isBusy = false
  }

  #obey(message: ToEngine): Promise<void> | undefined {
    const { session } = this.#player
    switch (message.type) {
      case 'load':
        return this.#player.load(message)
      case 'revise': {
        const edits = [message]
        while (this.#line[0]?.type === 'revise') edits.push(this.#line.shift() as typeof message)
        return this.#player.revise(edits)
      }
      case 'song':
        this.#askForSong({ to: 'song', song: message.song, position: message.position })
        return undefined
      case 'go':
        this.#askForSong({ to: message.to })
        return undefined
      case 'variant':
        this.#askForSong({ to: 'variant' })
        return undefined
      case 'stay':
        session?.stay()
        return undefined
      case 'tempo':
        session?.tellTime({ kind: 'tempo', tempo: message.bpm })
        return undefined
      case 'tap':
        session?.tellTime({ kind: 'tap' })
        return undefined
      case 'beats':
        session?.tellTime({ kind: 'run', do: message.do })
        return undefined
      case 'tune':
        this.#try(() => session?.tune(message.tuning, message.retune))
        return undefined
      case 'choose-port':
        this.#player.choosePort(message.port, message.place)
        return undefined
      case 'find-lamp':
        if (session) session.findLamp(message.lamp)
        else this.#say({ v: CONTRACT_VERSION, type: 'finding', lamp: null, why: 'no show is loaded' })
        return undefined
      case 'listen-again':
        session?.listenAgain(message.port)
        return undefined
      case 'learn':
        this.#player.learner.start()
        return undefined
      case 'learn-end':
        this.#player.learner.stop()
        return undefined
      default:
        return undefined
    }
  }

  #askForSong(ask: SongAsk): void {
    this.#try(() => this.#player.session?.ask(ask))
  }

  /** What the show has not is told to whoever asked. */
  #try(work: () => void): void {
    try {
      work()
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      this.#say({ v: CONTRACT_VERSION, type: 'not-understood', message })
    }
  }

  /** One at a time, and not often, however often it is asked: what lists ports may hold the whole process up. */
  async #listPorts(): Promise<void> {
    this.#mustList = true
    if (this.#isListing) return
    this.#isListing = true
    while (this.#mustList) {
      this.#mustList = false
      const { machine } = this.#player
      this.#say({ v: CONTRACT_VERSION, type: 'ports', ...(await listPorts(machine)) })
      const { timers } = machine
      await new Promise<void>((resolve) => void timers.at(timers.now() + LIST_EVERY, resolve))
    }
    this.#isListing = false
  }

  async #stop(): Promise<void> {
    if (this.#isStopping) return
    this.#isStopping = true
    const clean = await this.#player.stop()
    this.#say({ v: CONTRACT_VERSION, type: 'stopped', clean })
    this.#ended()
  }
}
