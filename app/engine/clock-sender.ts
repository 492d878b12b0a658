import { WAKE } from '../../src/domain/stage.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { ClockOutIn, ClockOutState } from '../../src/outputs/clock-out.ts'
import { clockOut } from '../../src/outputs/clock-out.ts'
import { CONTINUE, SONG_POSITION, START, STOP, TIMING_CLOCK } from '../../src/time/clock-message.ts'

export interface ClockSenderOptions {
  /** How many ports are sent a clock. */
  readonly ports: number
  /** Another clock is followed: it is passed on, and none of our own is made. */
  readonly follows: boolean
  /** One message to a port, by its place in the list. */
  readonly send: (port: number, bytes: Uint8Array) => void
}

/** What of a clock that is followed is passed on. */
const PASSED = new Set([TIMING_CLOCK, START, CONTINUE, STOP, SONG_POSITION])

/** Sends MIDI clock at its time to every port that a show lists for it. */
export class ClockSender {
  readonly #options: ClockSenderOptions
  #state: ClockOutState
  #wake: Micros = Infinity

  constructor(options: ClockSenderOptions) {
    this.#options = options
    this.#state = clockOut.start({ ports: options.ports })
  }

  /** When the next byte is due; Infinity: none is. */
  get nextDue(): Micros {
    return this.#wake
  }

  /** Sends what is due by now. */
  advance(now: Micros): void {
    if (now >= this.#wake) this.tell(WAKE, now)
  }

  /** What the song's beats do, and which ports there are. */
  tell(event: ClockOutIn, now: Micros): void {
    const { ports, follows, send } = this.#options
    if (ports === 0 || follows) return
    const { state, out, wake } = clockOut.step(this.#state, event, now)
    this.#state = state
    this.#wake = wake ?? Infinity
    for (const { port, bytes } of out) send(port, Uint8Array.from(bytes))
  }

  /** A message of the clock that is followed, in the order they came: clocks, Start, Continue, Stop and Song Position go on to every port at once, all else does not. */
  pass(bytes: Uint8Array): void {
    if (!this.#options.follows || !PASSED.has(bytes[0] ?? 0)) return
    this.#sendAll(bytes)
  }

  /** Who follows stops, and nothing is sent any more. */
  close(now: Micros): void {
    if (this.#options.follows) this.#sendAll(Uint8Array.of(STOP))
    else this.tell({ kind: 'close' }, now)
  }

  #sendAll(bytes: Uint8Array): void {
    for (let port = 0; port < this.#options.ports; port++) this.#options.send(port, bytes)
  }
}
