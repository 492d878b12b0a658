import type { LampChange } from '../../../src/domain/lamp-state.ts'
import type { SerialOutput, TimerSpec } from '../../../src/domain/rig.ts'
import { WAKE } from '../../../src/domain/stage.ts'
import { type Micros, MICROS_PER_MS } from '../../../src/domain/units.ts'
import type { OutputLamp } from '../../../src/outputs/encoder-event.ts'
import type { LinkState, SerialLinkEvent, SerialLinkOut } from '../../../src/outputs/serial-link-event.ts'
import { linkIsQuiet, type SerialLinkState } from '../../../src/outputs/serial-link-state.ts'
import { serialLink } from '../../../src/outputs/serial-link.ts'
import type { SerialDriverEvent } from './serial-driver-event.ts'
import type { RememberedPort } from './serial-match.ts'
import { listedPorts, type Opened, openOutput } from './serial-opener.ts'
import {
  SerialOpenError,
  type SerialPortHandle,
  type SerialPortHandlers,
  type SerialSystem,
  type SerialTimers,
} from './serial-system.ts'

const TIMES = {
  /** Until a port that went is tried again the first time, and then each time. */
  firstRetry: 250 * MICROS_PER_MS,
  retry: 1000 * MICROS_PER_MS,
  /** While the box does not answer: how often it is looked for in the system's list. */
  look: 2000 * MICROS_PER_MS,
  /** How long it may not answer until its port is opened anew. Opening resets many boards, so not before one can have started. */
  renew: 10_000 * MICROS_PER_MS,
  close: 250 * MICROS_PER_MS,
} as const

export interface SerialDriverOptions {
  readonly output: SerialOutput
  readonly lamps: readonly OutputLamp[]
  readonly system: SerialSystem
  readonly timers: SerialTimers
  /** What a `learned` event of an earlier run said. */
  readonly remembered?: RememberedPort | undefined
  /** Paths that other outputs hold now. */
  readonly taken?: () => readonly string[]
  readonly onEvent: (event: SerialDriverEvent) => void
  /** The box's timer is this, whatever the show says: rates are to be resolved for it from now on. */
  readonly setTimer?: (timer: TimerSpec) => void
}

/** Keeps one lamp box's port open and its lamps as they shall be, through lost boxes, ports that go and come back, and stalls. */
export class SerialDriver {
  readonly #options: SerialDriverOptions
  #link: SerialLinkState
  readonly #waiting: SerialLinkEvent[] = []
  #isTelling = false
  #handle: SerialPortHandle | undefined
  #remembered: RememberedPort | undefined
  /** Of the port that is open; what an earlier one still says is not heard. */
  #turn = 0
  #isOpening = false
  #isStopped = true
  #wasReady = false
  #goneReason = ''
  #lastFault: string | undefined
  #quietAt: Micros = 0
  #cancelWake = (): void => {}
  #cancelRetry = (): void => {}
  #cancelLook = (): void => {}
  #whenQuiet: (() => void) | undefined

  constructor(options: SerialDriverOptions) {
    this.#options = options
    this.#remembered = options.remembered
    this.#link = serialLink.start({ output: options.output, lamps: options.lamps })
  }

  /** The path of the open port. */
  get path(): string | undefined {
    return this.#handle?.path
  }

  get state(): LinkState {
    return this.#link.phase
  }

  /** Frames of lamps without a reply, and bytes that have not left: what there is of a queue. */
  get depth(): { readonly frames: number; readonly bytes: number } {
    return { frames: this.#link.flights.length, bytes: this.#handle?.pending ?? 0 }
  }

  start(): void {
    if (!this.#isStopped) return
    this.#isStopped = false
    void this.#open()
  }

  /** Looks for the port at once where it is not open. */
  lookNow(): void {
    if (!this.#handle && !this.#isOpening) this.#retry(0)
  }

  /** All changes of one moment; those of other outputs' lamps are passed over. Held while the box is away. */
  changes(changes: readonly LampChange[]): void {
    this.#tell({ kind: 'changes', changes })
  }

  /** Everything dark, ahead of everything that waits. */
  darkAll(): void {
    this.#tell({ kind: 'dark-all' })
  }

  /** Darkens the box, waits until it has said so or that has at least left, 250 ms at most, and lets the port go. Never rejects. */
  async close(): Promise<void> {
    if (this.#isStopped) return
    this.#isStopped = true
    this.#cancelRetry()
    this.#cancelLook()
    this.#tell({ kind: 'close' })
    await this.#quiet()
    const handle = this.#handle
    this.#letGo()
    await handle?.close()
  }

  #quiet(): Promise<void> {
    if (linkIsQuiet(this.#link)) return Promise.resolve()
    const { timers } = this.#options
    return new Promise((done) => {
      const cancel = timers.at(timers.now() + TIMES.close, () => this.#whenQuiet?.())
      this.#whenQuiet = () => {
        this.#whenQuiet = undefined
        cancel()
        done()
      }
    })
  }

  async #open(): Promise<void> {
    if (this.#isOpening || this.#isStopped || this.#handle) return
    this.#isOpening = true
    const { system, output, onEvent, taken, timers } = this.#options
    const turn = ++this.#turn
    let opened: Opened
    try {
      opened = await openOutput(system, output, this.#remembered, taken?.() ?? [], this.#handlers(turn))
    } catch (error) {
      this.#isOpening = false
      this.#notOpen(error)
      return
    }
    this.#isOpening = false
    const { handle, moved } = opened
    // It may have gone, or we been closed, while it opened.
    if (this.#isStopped || turn !== this.#turn) {
      await handle.close()
      this.#retry(TIMES.retry)
      return
    }
    this.#handle = handle
    this.#lastFault = undefined
    this.#quietAt = timers.now()
    onEvent({ kind: 'opened', path: handle.path, moved })
    this.#tell({ kind: 'open' })
    this.#look()
    void this.#learn(handle)
  }

  #handlers(turn: number): SerialPortHandlers {
    const ours = () => turn === this.#turn
    return {
      onBytes: (bytes) => {
        if (ours()) this.#tell({ kind: 'bytes', bytes })
      },
      onWritten: () => {
        if (ours()) this.#tell({ kind: 'wrote', frames: 1 })
      },
      onClosed: (reason) => {
        if (ours()) this.#gone(reason)
      },
    }
  }

  /** What this port is, to know it again. */
  async #learn(handle: SerialPortHandle): Promise<void> {
    const listed = await listedPorts(this.#options.system)
    const port = listed?.find(({ path }) => path === handle.path)
    if (!port || this.#handle !== handle) return
    const { manufacturer: _, ...learned } = port
    this.#remembered = learned
    this.#options.onEvent({ kind: 'learned', port: learned })
  }

  #notOpen(error: unknown): void {
    const message = error instanceof Error ? error.message : String(error)
    const fault = error instanceof SerialOpenError ? error.fault : 'failed'
    if (message !== this.#lastFault) this.#options.onEvent({ kind: 'not-open', fault, message })
    this.#lastFault = message
    this.#retry(TIMES.retry)
  }

  #retry(after: Micros): void {
    this.#cancelRetry()
    if (this.#isStopped) return
    const { timers } = this.#options
    this.#cancelRetry = timers.at(timers.now() + after, () => void this.#open())
  }

  /** The port is gone, or as good as. */
  #gone(reason: string): void {
    this.#goneReason = reason
    const wasGreeting = this.#link.phase === 'greeting'
    this.#letGo()
    if (wasGreeting) this.#options.onEvent({ kind: 'lost', reason, portOpen: false })
    this.#retry(TIMES.firstRetry)
  }

  #letGo(): void {
    this.#turn++
    this.#handle = undefined
    this.#cancelLook()
    this.#tell({ kind: 'closed' })
  }

  /** From time to time, whether a box that does not answer is there at all. */
  #look(): void {
    const { timers } = this.#options
    this.#cancelLook()
    this.#cancelLook = timers.at(timers.now() + TIMES.look, () => void this.#lookNow())
  }

  async #lookNow(): Promise<void> {
    const handle = this.#handle
    if (!handle) return
    if (this.#isReady()) return this.#look()
    const { system, timers } = this.#options
    const remembered = this.#remembered
    const listed = await listedPorts(system)
    if (this.#handle !== handle || this.#isStopped) return
    // Ports that never were listed (a link to one, a pty) are not missed there.
    const isListed = !remembered || !listed || listed.some(({ path }) => path === handle.path)
    const isLate = timers.now() - this.#quietAt >= TIMES.renew
    if (this.#isReady() || (isListed && !isLate)) return this.#look()
    this.#gone(
      isListed
        ? `${handle.path}: the lamp box does not answer`
        : `${handle.path}: the port is not listed any more`,
    )
    await handle.close()
  }

  #isReady(): boolean {
    return this.#link.phase === 'ready'
  }

  #tell(event: SerialLinkEvent): void {
    this.#waiting.push(event)
    if (this.#isTelling) return
    this.#isTelling = true
    try {
      for (let next = this.#waiting.shift(); next; next = this.#waiting.shift()) this.#step(next)
    } finally {
      this.#isTelling = false
    }
    if (linkIsQuiet(this.#link)) this.#whenQuiet?.()
  }

  #step(event: SerialLinkEvent): void {
    const { timers, onEvent } = this.#options
    this.#cancelWake()
    try {
      const { state, out, wake } = serialLink.step(this.#link, event, timers.now())
      this.#link = state
      if (wake !== undefined) this.#cancelWake = timers.at(wake, () => this.#tell(WAKE))
      for (const one of out) this.#act(one)
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      onEvent({ kind: 'fault', message: `Output ${this.#options.output.id}: ${message}` })
      if (event.kind !== 'dark-all') this.#waiting.push({ kind: 'dark-all' })
    }
  }

  #act(out: SerialLinkOut): void {
    const { onEvent, setTimer } = this.#options
    switch (out.kind) {
      case 'write':
        this.#handle?.write(out.bytes)
        return
      case 'state':
        this.#stateIs(out.state)
        return
      case 'identity':
        onEvent(out)
        if (out.identity.timer) setTimer?.(out.identity.timer)
        return
      default:
        onEvent(out)
    }
  }

  #stateIs(state: LinkState): void {
    const { onEvent, timers } = this.#options
    if (state === 'ready') {
      onEvent({ kind: 'ready', again: this.#wasReady })
      this.#wasReady = true
    } else if (state === 'lost' && !this.#isStopped) {
      this.#quietAt = timers.now()
      const portOpen = this.#handle !== undefined
      const reason = portOpen
        ? `${this.#handle?.path}: the lamp box does not answer any more`
        : this.#goneReason
      onEvent({ kind: 'lost', reason, portOpen })
    }
  }
}
