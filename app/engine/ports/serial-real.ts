import { SerialPort } from 'serialport'
import { deviceGroup } from './device-group.ts'
import { listPorts } from './serial-list.ts'
import { serialOpenFault } from './serial-open-fault.ts'
import { serialStream } from './serial-stream.ts'
import type { SerialSystem } from './serial-system.ts'

/** The serial ports of this computer. A port is opened for us alone. */
export const realSerial: SerialSystem = {
  list: () => listPorts(() => SerialPort.list()),

  async open(path, baud, handlers) {
    const port = new SerialPort({ path, baudRate: baud, lock: true, autoOpen: false })
    try {
      await new Promise<void>((done, fail) => port.open((error) => (error ? fail(error) : done())))
    } catch (error) {
      throw serialOpenFault(error, { path, platform: process.platform, group: await deviceGroup(path) })
    }
    return serialStream(path, port, handlers)
  },
}
