import type { Micros } from '../../src/domain/units.ts'
import { WAKE } from '../../src/domain/stage.ts'
import type { ClockOutIn, ClockOutState } from '../../src/outputs/clock-out.ts'
import { clockOut } from '../../src/outputs/clock-out.ts'

export interface SentByte {
  readonly at: Micros
  readonly bytes: readonly number[]
}

/** The clock of one port, woken at the very times it asks for, with its state saved and read again at each. */
export class ClockRun {
  readonly sent: SentByte[] = []
  #state: ClockOutState = clockOut.start({ ports: 1 })
  #wake: Micros | undefined

  tell(event: ClockOutIn, at: Micros): void {
    this.until(at - 1)
    this.#step(event, at)
  }

  /** The machine was busy: this is what happens next, and nothing that was due before it has. */
  late(event: ClockOutIn, at: Micros): void {
    this.#step(event, at)
  }

  until(end: Micros): void {
    while (this.#wake !== undefined && this.#wake <= end) this.#step(WAKE, this.#wake)
  }

  /** Times of the clocks that were sent. */
  get clocks(): Micros[] {
    return this.sent.flatMap(({ at, bytes }) => (bytes[0] === 0xf8 ? [at] : []))
  }

  /** All but the clocks. */
  get words(): SentByte[] {
    return this.sent.filter(({ bytes }) => bytes[0] !== 0xf8)
  }

  #step(event: ClockOutIn, at: Micros): void {
    const step = clockOut.step(this.#state, event, at)
    this.#state = JSON.parse(JSON.stringify(step.state)) as ClockOutState
    this.#wake = step.wake
    for (const { bytes } of step.out) this.sent.push({ at, bytes })
  }
}
