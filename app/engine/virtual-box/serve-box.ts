import type { SerialPortHandle, SerialSystem, SerialTimers } from '../ports/serial-system.ts'
import type { BoxLamp } from './box-lamp.ts'
import type { VirtualBoxOptions } from './box-options.ts'
import { VirtualBox } from './virtual-box.ts'

export interface ServedBoxOptions extends Partial<VirtualBoxOptions> {
  readonly baud?: number
  readonly onChange?: (slot: number, lamp: BoxLamp) => void
  /** The port is gone; the box stays as it is, and its watchdog darkens it. */
  readonly onClosed?: (reason: string) => void
}

export interface ServedBox {
  readonly box: VirtualBox
  close(): Promise<void>
}

/** A virtual lamp box at the far end of a serial port or pty. Rejects with a SerialOpenError where that does not open. */
export async function serveBox(
  system: SerialSystem,
  path: string,
  timers: SerialTimers,
  options: ServedBoxOptions = {},
): Promise<ServedBox> {
  const { baud = 500_000, onClosed, ...rest } = options
  let port: SerialPortHandle | undefined
  const box = new VirtualBox({ ...rest, timers, send: (bytes) => port?.write(bytes) })
  const handle = await system.open(path, baud, {
    onBytes: (bytes) => box.receive(bytes),
    onWritten: () => {},
    onClosed: (reason) => onClosed?.(reason),
  })
  port = handle
  return {
    box,
    async close() {
      box.stop()
      await handle.close()
    },
  }
}
