import type { FromEngine, MonitorEvent } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Show } from '../../src/domain/show.ts'
import { MICROS_PER_MS, type Micros } from '../../src/domain/units.ts'
import type { Watched } from './monitor-words.ts'
import { isTold, MonitorWords, NO_SHOW } from './monitor-words.ts'
import type { SerialTimers } from './ports/serial-system.ts'

/** Ten times a second at most. */
const BATCH_EVERY: Micros = 100 * MICROS_PER_MS
/** Events of one batch; the rest is counted. */
const MOST_EVENTS = 200

/**
 * Says what goes through the engine, while somebody watches. Whoever has something to tell asks `isOn` first, so that it costs nothing otherwise; what is
 * told is put by, and put into words when the batch is due.
 */
export class Monitor {
  readonly #timers: SerialTimers
  readonly #say: (message: FromEngine) => void
  #words = new MonitorWords(NO_SHOW)
  #isOn = false
  #watched: Watched[] = []
  #left = 0
  #cancel: (() => void) | undefined

  constructor(timers: SerialTimers, say: (message: FromEngine) => void) {
    this.#timers = timers
    this.#say = say
  }

  get isOn(): boolean {
    return this.#isOn
  }

  /** From now on, or no more; what was put by and not said is let go. */
  watch(isOn: boolean): void {
    if (isOn === this.#isOn) return
    this.#isOn = isOn
    this.#cancel?.()
    this.#cancel = undefined
    this.#watched = []
    this.#left = 0
  }

  /** The show that is played now, for its names. What is put by is said with the names it had. */
  follow(show: Show): void {
    if (this.#cancel !== undefined) this.#tell()
    this.#words = new MonitorWords(show)
  }

  /** Only while `isOn`. */
  note(event: Watched): void {
    if (!isTold(event)) return
    if (this.#watched.length < MOST_EVENTS) this.#watched.push(event)
    else this.#left += this.#words.countOf(event)
    this.#cancel ??= this.#timers.at(this.#timers.now() + BATCH_EVERY, () => this.#tell())
  }

  /** A diagnostic that leaves the engine, wherever it comes from. */
  told({ at, diagnostic }: Extract<FromEngine, { type: 'diagnostic' }>): void {
    if (this.#isOn) this.note({ kind: 'diagnostic', at, diagnostic })
  }

  #tell(): void {
    this.#cancel?.()
    this.#cancel = undefined
    const words = this.#words
    const watched = this.#watched
    const events: MonitorEvent[] = []
    let left = this.#left
    this.#watched = []
    this.#left = 0
    for (const event of watched) {
      if (events.length < MOST_EVENTS) events.push(...words.of(event))
      else left += words.countOf(event)
    }
    left += Math.max(0, events.length - MOST_EVENTS)
    events.length = Math.min(events.length, MOST_EVENTS)
    if (events.length === 0 && left === 0) return
    this.#say({ v: CONTRACT_VERSION, type: 'monitor', at: this.#timers.now(), events, left })
  }
}
