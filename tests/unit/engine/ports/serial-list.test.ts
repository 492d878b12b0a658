import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { listPorts } from '../../../../app/engine/ports/serial-list.ts'

const broken = () => Promise.reject(new Error('spawn udevadm ENOENT'))

test('what the library knows, without what it does not', async () => {
  const port = {
    path: '/dev/ttyUSB0',
    manufacturer: undefined,
    serialNumber: '',
    vendorId: '1209',
    productId: '0001',
  }
  expect(await listPorts(async () => [port])).toEqual([
    { path: '/dev/ttyUSB0', vendorId: '1209', productId: '0001' },
  ])
})

test('a Linux without udevadm: the names in /dev', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lanthorn-dev-'))
  for (const name of ['ttyUSB1', 'ttyACM0', 'tty1', 'null', 'ttyUSBx']) writeFileSync(join(folder, name), '')
  try {
    expect(await listPorts(broken, 'linux', folder)).toEqual([
      { path: `${folder}/ttyACM0` },
      { path: `${folder}/ttyUSB1` },
    ])
  } finally {
    rmSync(folder, { recursive: true })
  }
})

test('elsewhere the fault is handed on', async () => {
  await expect(listPorts(broken, 'win32')).rejects.toThrow('udevadm')
})
