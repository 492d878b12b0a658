import type { FromEngine } from '../../src/contract/from-engine.ts'
import { fromEngine } from '../../src/contract/from-engine.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { LoadOptions } from './wanted-show.ts'
import { WantedShow } from './wanted-show.ts'

/** A running engine as its supervisor sees it. */
export interface EngineProcess {
  send(message: ToEngineInput): void
  onMessage(call: (raw: unknown) => void): void
  /** May fire more than once for one death. */
  onExit(call: (how: string) => void): void
  kill(): void
}

export interface SupervisorOptions {
  readonly spawn: () => EngineProcess
  readonly say: (message: FromEngine) => void
  readonly timers?: SupervisorTimers
}

/** The timers of the machine, or a test's own. */
export interface SupervisorTimers {
  now(): number
  after(ms: number, call: () => void): () => void
}

export const MACHINE_TIMERS: SupervisorTimers = {
  now: () => performance.now(),
  after(ms, call) {
    const timer = setTimeout(call, ms)
    return () => clearTimeout(timer)
  },
}

const PING_MS = 500
/** An engine that answers nothing for so long hangs. */
const HANGS_MS = 2_000
/** Before its first word it may only be slow to start, on a machine with much else to do. */
const STARTS_MS = 15_000
/** So many crashes within this time, and the next start waits. */
const CRASHES = 5
const CRASH_WINDOW_MS = 30_000
const LONGEST_PAUSE_MS = 10_000
/** How long an engine may take to darken and end when asked to. */
const STOP_MS = 2_000

/**
 * Keeps an engine running: starts it anew once for each crash, or when it hangs, with the show as it was last edited, the song and the port choices it had,
 * lamps dark first.
 */
export class Supervisor {
  readonly #spawn: () => EngineProcess
  readonly #say: (message: FromEngine) => void
  readonly #timers: SupervisorTimers
  #engine: EngineProcess | undefined
  #hasGreeted = false
  readonly #wanted = new WantedShow()
  readonly #choices = new Map<string, number>()
  #watch: ToEngineInput | undefined
  #crashes: number[] = []
  #lastHeard = 0
  #hasSpoken = false
  #pings = 0
  #stopPing: () => void = () => {}
  #stopPause: () => void = () => {}
  #stopping: ((clean: boolean) => void) | undefined
  #clean = false

  constructor({ spawn, say, timers = MACHINE_TIMERS }: SupervisorOptions) {
    this.#spawn = spawn
    this.#say = say
    this.#timers = timers
  }

  /** Plays a show, on the engine that runs or on one that is started for it. Answers to ports' questions are forgotten where it is another show. */
  load(options: LoadOptions): void {
    if (options.text !== this.#wanted.latest?.text) this.#choices.clear()
    const message = this.#wanted.load(options)
    // None runs: before the first show, or in the pause after crashes.
    if (!this.#engine) return this.#start()
    if (!this.#hasGreeted) return
    this.#engine.send(message)
    this.#sendChoices(this.#engine)
  }

  /** The show, edited. The next engine is given it as well, once this one has taken it. */
  revise(text: string): void {
    const message = this.#wanted.revise(text)
    if (this.#hasGreeted) this.#engine?.send(message)
  }

  /** The same show, song and take on lamps in memory, or on the rig's own. */
  changeRig(rig: 'real' | 'virtual'): void {
    const { latest } = this.#wanted
    if (latest && latest.rig !== rig) this.load({ ...latest, rig })
  }

  /** Anything else that an engine may be asked. */
  send(message: Exclude<ToEngineInput, { type: 'load' | 'revise' | 'stop' }>): void {
    if (message.type === 'choose-port') this.#choices.set(message.port, message.place)
    if (message.type === 'watch') this.#watch = message
    this.#engine?.send(message)
  }

  /** Darkens, waits until the offs have left (bounded), ends the engine. Resolves to whether all of that was done. */
  stop(): Promise<boolean> {
    this.#stopPause()
    this.#stopPing()
    const engine = this.#engine
    if (!engine) return Promise.resolve(true)
    return new Promise((resolve) => {
      const giveUp = this.#timers.after(STOP_MS, () => engine.kill())
      this.#stopping = (clean) => {
        giveUp()
        resolve(clean)
      }
      engine.send({ v: CONTRACT_VERSION, type: 'stop' })
    })
  }

  #start(): void {
    this.#stopPause()
    const engine = this.#spawn()
    this.#engine = engine
    this.#hasGreeted = false
    this.#lastHeard = this.#timers.now()
    this.#hasSpoken = false
    engine.onMessage((raw) => this.#hear(engine, raw))
    let isOver = false
    engine.onExit((how) => {
      if (isOver) return
      isOver = true
      this.#over(engine, how)
    })
    this.#stopPing()
    this.#ping(engine)
  }

  #hear(engine: EngineProcess, raw: unknown): void {
    if (engine !== this.#engine) return
    this.#hasSpoken = true
    this.#lastHeard = this.#timers.now()
    const read = readMessage(fromEngine, raw)
    if (!read.ok) return this.#report('warning', 'not-understood', read.why)
    const { message } = read
    if (message.type === 'hello') this.#brief(engine)
    this.#wanted.heard(message)
    if (message.type === 'stopped') this.#clean = message.clean
    if (message.type !== 'alive') this.#say(message)
  }

  #brief(engine: EngineProcess): void {
    this.#hasGreeted = true
    for (const message of this.#wanted.again()) engine.send(message)
    this.#sendChoices(engine)
    if (this.#watch) engine.send(this.#watch)
  }

  #sendChoices(engine: EngineProcess): void {
    for (const [port, place] of this.#choices)
      engine.send({ v: CONTRACT_VERSION, type: 'choose-port', port, place })
  }

  #over(engine: EngineProcess, how: string): void {
    if (engine !== this.#engine) return
    this.#engine = undefined
    this.#hasGreeted = false
    this.#stopPing()
    if (this.#stopping) {
      this.#stopping(this.#clean)
      return
    }
    const now = this.#timers.now()
    this.#crashes = [...this.#crashes.filter((at) => now - at < CRASH_WINDOW_MS), now]
    const many = this.#crashes.length - CRASHES
    const pause = many <= 0 ? 0 : Math.min(LONGEST_PAUSE_MS, 500 * 2 ** many)
    const then =
      pause === 0 ? 'starting it again, lamps dark first' : `starting it again in ${pause / 1000} s`
    this.#report('fault', 'engine-ended', `the engine ended (${how}); ${then}`)
    if (this.#wanted.died() > 0)
      this.#report('fault', 'edit-dropped', 'two engines ended over the last edit; the show before it plays')
    if (pause === 0) this.#start()
    else this.#stopPause = this.#timers.after(pause, () => this.#start())
  }

  #ping(engine: EngineProcess): void {
    const due = this.#timers.now() + PING_MS
    this.#stopPing = this.#timers.after(PING_MS, () => {
      // We were away ourselves, as when the machine sleeps: that the engine said nothing meanwhile proves nothing.
      if (this.#timers.now() - due > PING_MS) this.#lastHeard = this.#timers.now()
      const limit = this.#hasSpoken ? HANGS_MS : STARTS_MS
      if (this.#timers.now() - this.#lastHeard > limit) {
        this.#report('fault', 'engine-hangs', `the engine has not answered for ${limit / 1000} s; ending it`)
        engine.kill()
        return
      }
      engine.send({ v: CONTRACT_VERSION, type: 'ping', count: this.#pings++ })
      this.#ping(engine)
    })
  }

  #report(level: 'warning' | 'fault', code: string, message: string): void {
    const diagnostic = { level, source: 'supervisor', code, message }
    this.#say({ v: CONTRACT_VERSION, type: 'diagnostic', at: 0, diagnostic })
  }
}
