import type { MemoryPort } from '../ports/memory-port.ts'
import type { MemorySerial } from '../ports/serial-memory.ts'
import type { SerialPortInfo, SerialTimers } from '../ports/serial-system.ts'
import type { BoxLamp } from './box-lamp.ts'
import type { VirtualBoxOptions } from './box-options.ts'
import { VirtualBox } from './virtual-box.ts'

export interface PluggedBoxOptions extends Partial<VirtualBoxOptions> {
  readonly onChange?: (slot: number, lamp: BoxLamp) => void
  /** Whether opening the port resets the box, as on many boards. */
  readonly resetsOnOpen?: boolean
}

export interface PluggedBox {
  readonly box: VirtualBox
  readonly port: MemoryPort
}

/** A virtual lamp box at a port in memory. */
export function plugBox(
  system: MemorySerial,
  info: SerialPortInfo,
  timers: SerialTimers,
  options: PluggedBoxOptions = {},
): PluggedBox {
  const { resetsOnOpen = true, ...rest } = options
  let box: VirtualBox | undefined
  const port = system.plug(info, (send) => {
    const made = new VirtualBox({ ...rest, timers, send })
    box = made
    return {
      receive: (bytes) => made.receive(bytes),
      opened: () => {
        if (resetsOnOpen) made.reset()
      },
    }
  })
  if (!box) throw new Error('The port in memory did not connect its device')
  return { box, port }
}
