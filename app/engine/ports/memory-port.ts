import { type Micros, MICROS_PER_MS } from '../../../src/domain/units.ts'
import type {
  SerialFault,
  SerialPortHandle,
  SerialPortHandlers,
  SerialPortInfo,
  SerialTimers,
} from './serial-system.ts'

/** What is at the other end of a port in memory. */
export interface MemoryDevice {
  receive(bytes: Uint8Array): void
  /** The port was opened: many boards begin anew then. */
  opened?(): void
}

/** A way over the line: what arrives of some bytes; undefined where nothing does. */
export type Way = (bytes: Uint8Array) => Uint8Array | undefined

const STALLED: Micros = 1000 * MICROS_PER_MS

/** A port in memory, and what is wrong with it. */
export class MemoryPort {
  info: SerialPortInfo
  /** How long a write takes. */
  writeMs = 0
  /** No write finishes. */
  isStalled = false
  /** Every write fails, as with EIO. */
  isFailing = false
  /** It does not open. */
  refusal: SerialFault | undefined
  toDevice: Way = (bytes) => bytes
  toHost: Way = (bytes) => bytes
  /** The most bytes that ever waited. */
  mostPending = 0
  readonly #timers: SerialTimers
  readonly #device: MemoryDevice
  #handlers: SerialPortHandlers | undefined
  #queue: Uint8Array[] = []
  #isWriting = false
  #isSilent = false
  #cancelStall = (): void => {}

  constructor(info: SerialPortInfo, timers: SerialTimers, device: MemoryDevice) {
    this.info = info
    this.#timers = timers
    this.#device = device
  }

  get isOpen(): boolean {
    return this.#handlers !== undefined
  }

  get pending(): number {
    return this.#queue.reduce((sum, { length }) => sum + length, 0)
  }

  open(handlers: SerialPortHandlers): SerialPortHandle {
    this.#handlers = handlers
    this.#queue = []
    this.#isWriting = false
    this.#isSilent = false
    this.#device.opened?.()
    const isOurs = () => this.#handlers === handlers
    const pending = () => (isOurs() ? this.pending : 0)
    return {
      path: this.info.path,
      get pending() {
        return pending()
      },
      write: (bytes) => {
        if (isOurs()) this.#write(bytes)
      },
      close: async () => {
        if (isOurs()) this.#end()
      },
    }
  }

  fromDevice(bytes: Uint8Array): void {
    if (this.#isSilent) return
    const arrived = this.toHost(bytes)
    const handlers = this.#handlers
    if (!handlers || !arrived) return
    this.#timers.at(this.#timers.now(), () => {
      if (this.#handlers === handlers) handlers.onBytes(arrived)
    })
  }

  gone(reason: string): void {
    const handlers = this.#handlers
    this.#end()
    handlers?.onClosed(reason)
  }

  goSilent(): void {
    this.#isSilent = true
  }

  #end(): void {
    this.#handlers = undefined
    this.#queue = []
    this.#cancelStall()
  }

  #write(bytes: Uint8Array): void {
    this.#queue.push(bytes)
    this.mostPending = Math.max(this.mostPending, this.pending)
    if (!this.#isWriting) this.#writeFirst()
  }

  #writeFirst(): void {
    const handlers = this.#handlers
    if (!handlers || this.#queue.length === 0) return
    this.#isWriting = true
    const now = this.#timers.now()
    this.#cancelStall()
    this.#cancelStall = this.#timers.at(now + STALLED, () => {
      if (this.#handlers === handlers) this.gone(`${this.info.path}: a write did not finish within 1 s`)
    })
    if (!this.isStalled) this.#timers.at(now + this.writeMs * MICROS_PER_MS, () => this.#written(handlers))
  }

  #written(handlers: SerialPortHandlers): void {
    if (this.#handlers !== handlers) return
    this.#cancelStall()
    if (this.isFailing) return this.gone(`${this.info.path}: a write failed (EIO)`)
    this.#isWriting = false
    const bytes = this.#queue.shift()
    const arrived = bytes && !this.#isSilent ? this.toDevice(bytes) : undefined
    if (arrived) this.#device.receive(arrived)
    handlers.onWritten()
    if (!this.#isWriting) this.#writeFirst()
  }
}
