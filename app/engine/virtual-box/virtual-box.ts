import { type Micros, MICROS_PER_MS } from '../../../src/domain/units.ts'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import {
  type BoxFrame,
  type HostFrame,
  type LampSetting,
  type ReplyStatus,
  SERIAL_VERSION,
} from '../../../src/outputs/serial-frame.ts'
import type { SerialTimers } from '../ports/serial-system.ts'
import { type BoxLamp, boxLamp, DARK_LAMP } from './box-lamp.ts'
import { BoxReader } from './box-reader.ts'
import { checkBoxOptions, VIRTUAL_BOX, type VirtualBoxOptions } from './box-options.ts'

/** Without a valid frame for so long, the box goes dark until the next set. */
const WATCHDOG: Micros = 500 * MICROS_PER_MS
const U32 = 2 ** 32

export interface VirtualBoxWiring extends Partial<VirtualBoxOptions> {
  readonly timers: SerialTimers
  /** To the host. Called from within `receive`, and from timers. */
  readonly send: (bytes: Uint8Array) => void
  /** A lamp does something else now. */
  readonly onChange?: (slot: number, lamp: BoxLamp) => void
}

type Unnumbered = BoxFrame extends infer Frame
  ? Frame extends BoxFrame
    ? Omit<Frame, 'sequence'>
    : never
  : never

/**
 * A lamp box without lamps: frames version 1, the timer's arithmetic, frames for later, the watchdog, replies. Of a set
 * with a slot that it has not, or a rate that it cannot make, it takes nothing.
 */
export class VirtualBox {
  readonly options: VirtualBoxOptions
  /** Valid frames heard since it was made, and blocks that were none. */
  frames = 0
  damaged = 0
  readonly #wiring: VirtualBoxWiring
  #lamps: BoxLamp[]
  #reader = new BoxReader()
  #sequence = 0
  #startedAt: Micros
  #hearsAt: Micros
  readonly #scheduled = new Set<() => void>()
  #cancelWatchdog = (): void => {}
  #cancelAnnounce = (): void => {}

  /** Throws RangeError for impossible options. */
  constructor(wiring: VirtualBoxWiring) {
    this.#wiring = wiring
    this.options = { ...VIRTUAL_BOX, ...picked(wiring) }
    checkBoxOptions(this.options)
    this.#lamps = Array.from({ length: this.options.lamps }, () => DARK_LAMP)
    this.#startedAt = wiring.timers.now()
    this.#hearsAt = this.#startedAt
    this.reset()
  }

  /** What each lamp does, by slot. */
  lamps(): readonly BoxLamp[] {
    return this.#lamps
  }

  /** Begins anew, as at power-up. */
  reset(): void {
    const { timers } = this.#wiring
    this.stop()
    this.#reader = new BoxReader()
    this.#sequence = 0
    this.#startedAt = timers.now()
    this.#hearsAt = this.#startedAt + this.options.bootMs * MICROS_PER_MS
    if (this.options.announces) this.#cancelAnnounce = timers.at(this.#hearsAt, () => this.#identify())
  }

  /** Power off: dark, and nothing more is due. */
  stop(): void {
    this.#cancelWatchdog()
    this.#cancelAnnounce()
    this.#allDark()
  }

  receive(bytes: Uint8Array): void {
    if (this.#wiring.timers.now() < this.#hearsAt) return
    for (const heard of this.#reader.read(bytes)) {
      if (heard.kind === 'damaged') this.damaged++
      else {
        this.#feedWatchdog()
        this.frames++
        if (heard.kind === 'frame') this.#obey(heard.frame)
        else this.#reply(heard.sequence, 'refused')
      }
    }
  }

  #feedWatchdog(): void {
    const { timers } = this.#wiring
    this.#cancelWatchdog()
    this.#cancelWatchdog = timers.at(timers.now() + WATCHDOG, () => this.#allDark())
  }

  #obey(frame: HostFrame): void {
    if (frame.type !== 'hello') return this.#reply(frame.sequence, this.#do(frame))
    // Those of a host that may be gone.
    this.#forgetScheduled()
    this.#identify()
  }

  #do(frame: Exclude<HostFrame, { type: 'hello' }>): ReplyStatus {
    if (frame.type === 'beat') return 'done'
    if (frame.type === 'dark') {
      this.#allDark()
      return 'done'
    }
    const status = this.#judge(frame.lamps)
    if (status !== 'done') return status
    // Whether a time that wraps is ahead or behind: the nearer of the two.
    const ahead = frame.at === 0 ? 0 : (frame.at - this.#micros() + U32) % U32
    if (ahead > 0 && ahead < U32 / 2) return this.#schedule(frame.lamps, ahead) ? 'done' : 'refused'
    this.#set(frame.lamps)
    return frame.at === 0 ? 'done' : 'late'
  }

  #judge(lamps: readonly LampSetting[]): ReplyStatus {
    if (lamps.some(({ slot }) => slot >= this.options.lamps)) return 'no-such-slot'
    const possible = lamps.every(({ rate, duty }) => boxLamp(rate, duty, this.options.timer))
    return possible ? 'done' : 'refused'
  }

  #schedule(lamps: readonly LampSetting[], ahead: Micros): boolean {
    if (this.#scheduled.size >= this.options.mostScheduled) return false
    const { timers } = this.#wiring
    const cancel = timers.at(timers.now() + ahead, () => {
      this.#scheduled.delete(cancel)
      this.#set(lamps)
    })
    this.#scheduled.add(cancel)
    return true
  }

  #set(lamps: readonly LampSetting[]): void {
    for (const { slot, rate, duty } of lamps) {
      const lamp = boxLamp(rate, duty, this.options.timer)
      if (lamp) this.#put(slot, lamp)
    }
  }

  #put(slot: number, lamp: BoxLamp): void {
    const old = this.#lamps[slot]
    if (!old || (old.rate === lamp.rate && old.duty16 === lamp.duty16)) return
    this.#lamps = this.#lamps.with(slot, lamp)
    this.#wiring.onChange?.(slot, lamp)
  }

  /** Also what was to be set later is forgotten. */
  #allDark(): void {
    this.#forgetScheduled()
    for (let slot = 0; slot < this.#lamps.length; slot++) this.#put(slot, DARK_LAMP)
  }

  #forgetScheduled(): void {
    for (const cancel of this.#scheduled) cancel()
    this.#scheduled.clear()
  }

  #reply(answers: number, status: ReplyStatus): void {
    this.#send({ type: 'reply', answers, status, micros: this.#micros() })
  }

  #identify(): void {
    const { clockHz, prescalers, bits } = this.options.timer
    // The byte cannot say 256; 0 stands for it.
    const lamps = this.options.lamps % 256
    this.#send({ type: 'identity', version: SERIAL_VERSION, lamps, clockHz, bits, prescalers })
  }

  #micros(): number {
    return (this.#wiring.timers.now() - this.#startedAt) % U32
  }

  #send(frame: Unnumbered): void {
    const sequence = this.#sequence
    this.#sequence = (sequence + 1) % 256
    this.#wiring.send(encodeFrame({ ...frame, sequence }))
  }
}

function picked({
  timers: _timers,
  send: _send,
  onChange: _onChange,
  ...options
}: VirtualBoxWiring): Partial<VirtualBoxOptions> {
  return options
}
