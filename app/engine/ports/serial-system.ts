import type { Micros } from '../../../src/domain/units.ts'

/** A serial port as the system lists it. What the system does not know is absent. */
export interface SerialPortInfo {
  readonly path: string
  readonly manufacturer?: string | undefined
  readonly serialNumber?: string | undefined
  /** Four hexadecimal digits. */
  readonly vendorId?: string | undefined
  readonly productId?: string | undefined
  readonly locationId?: string | undefined
}

export interface SerialPortHandlers {
  onBytes(bytes: Uint8Array): void
  /** One write has left for the system; in the order of the writes. */
  onWritten(): void
  /** The port is gone, for any reason but our `close`; once, and nothing after it. `reason` for people. */
  onClosed(reason: string): void
}

/** An open serial port. */
export interface SerialPortHandle {
  readonly path: string
  /** Goes out in order, whole. Never throws; what cannot go out ends in `onClosed`. */
  write(bytes: Uint8Array): void
  /** Bytes that have not left for the system. */
  readonly pending: number
  /** Waits a little for what is pending, then closes; never rejects. */
  close(): Promise<void>
}

/** `ambiguous`: several ports may be the one; a person has to say which. */
export type SerialFault = 'permission' | 'busy' | 'absent' | 'ambiguous' | 'failed'

/** Why a port does not open, with what to do about it in `message`. */
export class SerialOpenError extends Error {
  readonly fault: SerialFault

  constructor(fault: SerialFault, message: string) {
    super(message)
    this.name = 'SerialOpenError'
    this.fault = fault
  }
}

export interface SerialSystem {
  list(): Promise<readonly SerialPortInfo[]>
  /** Rejects with a SerialOpenError. */
  open(path: string, baud: number, handlers: SerialPortHandlers): Promise<SerialPortHandle>
}

/** Time, and being called at one; a real one, or one that a test moves on. */
export interface SerialTimers {
  now(): Micros
  /** Calls `run` once at `at`, or soon when that is past; never before this returns. The answer calls it off. */
  at(at: Micros, run: () => void): () => void
}
