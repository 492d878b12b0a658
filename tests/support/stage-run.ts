import { WAKE } from '../../src/domain/stage.ts'
import type { Stage, Wake } from '../../src/domain/stage.ts'
import type { Micros } from '../../src/domain/units.ts'
import { deepFreeze } from './deep-freeze.ts'

export interface Said<Out> {
  readonly at: Micros
  readonly out: Out
}

/** More wakes than this with nothing else going on are taken for endless. */
const MANY = 1000

/**
 * A stage as the graph runs it: woken when it asked, before what else comes at that time. State and events are frozen, and a wake that is not in
 * the future is an error. `isPutDown`: the state goes through JSON after every step.
 */
export class StageRun<Config, State, In, Out> {
  readonly #stage: Stage<Config, State, In | Wake, Out>
  readonly #isPutDown: boolean
  #state: State
  wakeAt: Micros | undefined
  readonly said: Said<Out>[] = []

  constructor(stage: Stage<Config, State, In | Wake, Out>, config: Config, isPutDown = false) {
    this.#stage = stage
    this.#isPutDown = isPutDown
    this.#state = deepFreeze(stage.start(deepFreeze(config)))
  }

  get state(): State {
    return this.#state
  }

  /** What the stage says to an event, with what it said when woken up to then. */
  at(now: Micros, event: In | Wake): Out[] {
    const from = this.said.length
    this.wakeUpTo(now)
    this.#step(event, now)
    return this.said.slice(from).map(({ out }) => out)
  }

  wakeUpTo(now: Micros): Said<Out>[] {
    const from = this.said.length
    for (let wakes = 0; this.wakeAt !== undefined && this.wakeAt <= now; wakes++) {
      if (wakes > MANY) throw new Error(`Woken for ever at ${this.wakeAt}`)
      this.#step(WAKE, this.wakeAt)
    }
    return this.said.slice(from)
  }

  /** Wakes the stage until it asks for no more. */
  runOut(): Said<Out>[] {
    return this.wakeUpTo(Infinity)
  }

  #step(event: In | Wake, now: Micros): void {
    const { state, out, wake } = this.#stage.step(this.#state, deepFreeze(event), now)
    if (wake !== undefined && !(Number.isInteger(wake) && wake > now))
      throw new Error(`At ${now} the stage wants to be woken at ${wake}`)
    this.#state = deepFreeze(this.#isPutDown ? (JSON.parse(JSON.stringify(state)) as State) : state)
    this.wakeAt = wake
    for (const one of out) this.said.push({ at: now, out: deepFreeze(one) })
  }
}
