import type { MemoryPort } from '../../app/engine/ports/memory-port.ts'
import type { SerialDriverEvent } from '../../app/engine/ports/serial-driver-event.ts'
import { SerialDriver, type SerialDriverOptions } from '../../app/engine/ports/serial-driver.ts'
import { MemorySerial } from '../../app/engine/ports/serial-memory.ts'
import type { SerialPortInfo } from '../../app/engine/ports/serial-system.ts'
import { plugBox, type PluggedBoxOptions } from '../../app/engine/virtual-box/plug-box.ts'
import type { VirtualBox } from '../../app/engine/virtual-box/virtual-box.ts'
import type { Micros } from '../../src/domain/units.ts'
import { lampsInSlots, WIRE } from './rig-outputs.ts'
import { VirtualTimers } from './virtual-timers.ts'

/** A USB lamp box as systems list it. */
export const BOX_INFO: SerialPortInfo = {
  path: WIRE.port,
  vendorId: '1209',
  productId: '0001',
  serialNumber: 'FERN-1',
}

/** A driver, ports in memory and a virtual box, in virtual time. */
export interface DriverRun {
  readonly timers: VirtualTimers
  readonly system: MemorySerial
  readonly driver: SerialDriver
  readonly box: VirtualBox
  readonly port: MemoryPort
  readonly events: { readonly at: Micros; readonly event: SerialDriverEvent }[]
}

export function driverRun(
  options: {
    readonly lamps?: number
    readonly info?: SerialPortInfo
    readonly box?: PluggedBoxOptions
    readonly driver?: Partial<SerialDriverOptions>
  } = {},
): DriverRun {
  const timers = new VirtualTimers()
  const system = new MemorySerial(timers)
  const lamps = options.lamps ?? 4
  const { box, port } = plugBox(system, options.info ?? BOX_INFO, timers, { lamps, ...options.box })
  const events: DriverRun['events'] = []
  const driver = new SerialDriver({
    output: WIRE,
    lamps: lampsInSlots(lamps),
    system,
    timers,
    onEvent: (event) => events.push({ at: timers.now(), event }),
    ...options.driver,
  })
  return { timers, system, driver, box, port, events }
}

export const eventsOf = <Kind extends SerialDriverEvent['kind']>(run: DriverRun, kind: Kind) =>
  run.events.flatMap(({ event }) =>
    event.kind === kind ? [event as Extract<SerialDriverEvent, { kind: Kind }>] : [],
  )

/** What happened, but for counts, latency and identities. */
export const storyOf = (run: DriverRun): string[] =>
  run.events.map(({ event }) => event.kind).filter((kind) => !['latency', 'count', 'identity'].includes(kind))

export const isLit = (run: DriverRun): boolean[] => run.box.lamps().map(({ on }) => on)
