import { readdir } from 'node:fs/promises'
import type { SerialPortInfo } from './serial-system.ts'

/** As the serial library gives it; Linux lists the sockets for ports on the mainboard whether there is one or not. */
const NAMES = /^tty(USB|ACM|AMA|S)\d+$/

/**
 * What `list` says; where that fails on Linux, which asks `udevadm`, the names in /dev, without knowing more of them. Throws what `list` threw
 * elsewhere.
 */
export async function listPorts(
  list: () => Promise<readonly SerialPortInfo[]>,
  platform: string = process.platform,
  folder = '/dev',
): Promise<readonly SerialPortInfo[]> {
  try {
    const found = await list()
    return found.map(({ path, manufacturer, serialNumber, vendorId, productId, locationId }) => ({
      path,
      ...known({ manufacturer, serialNumber, vendorId, productId, locationId }),
    }))
  } catch (error) {
    if (platform !== 'linux') throw error
    const names = await readdir(folder)
    return names
      .filter((name) => NAMES.test(name))
      .sort()
      .map((name) => ({ path: `${folder}/${name}` }))
  }
}

function known(fields: Readonly<Record<string, string | undefined>>): Partial<SerialPortInfo> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined && value !== ''))
}
