import { type MemoryDevice, MemoryPort } from './memory-port.ts'
import { serialOpenFault } from './serial-open-fault.ts'
import {
  SerialOpenError,
  type SerialPortInfo,
  type SerialSystem,
  type SerialTimers,
} from './serial-system.ts'

/** Ports in memory that behave as the system's do, with whatever can go wrong with them. */
export class MemorySerial implements SerialSystem {
  readonly #timers: SerialTimers
  readonly #ports = new Map<string, MemoryPort>()
  /** How often a port was opened, and tried. */
  opens = 0
  tries = 0

  constructor(timers: SerialTimers) {
    this.#timers = timers
  }

  /** A device on a path; `connect` is given the way back to the host. */
  plug(info: SerialPortInfo, connect: (send: (bytes: Uint8Array) => void) => MemoryDevice): MemoryPort {
    const port: MemoryPort = new MemoryPort(
      info,
      this.#timers,
      connect((bytes) => port.fromDevice(bytes)),
    )
    this.#ports.set(info.path, port)
    return port
  }

  /** Pulled out. `silent`: the system does not say so, writes go nowhere. */
  unplug(path: string, silent = false): void {
    const port = this.#ports.get(path)
    this.#ports.delete(path)
    if (silent) port?.goSilent()
    else port?.gone(`${path}: the port is gone`)
  }

  /** The same device, plugged in again on another path. */
  move(from: string, to: string): void {
    const port = this.#ports.get(from)
    if (!port) return
    this.unplug(from)
    port.info = { ...port.info, path: to }
    this.#ports.set(to, port)
  }

  async list(): Promise<readonly SerialPortInfo[]> {
    return [...this.#ports.values()].map(({ info }) => info)
  }

  async open(path: string, _baud: number, handlers: Parameters<SerialSystem['open']>[2]) {
    this.tries++
    const port = this.#ports.get(path)
    if (!port) throw serialOpenFault('No such file or directory', { path, platform: 'linux' })
    if (port.refusal) throw new SerialOpenError(port.refusal, `${path}: refused`)
    if (port.isOpen) throw serialOpenFault('Cannot lock port', { path, platform: 'linux' })
    this.opens++
    return port.open(handlers)
  }
}
