import { expect, test } from 'vitest'
import { matchPort } from '../../../../app/engine/ports/serial-match.ts'
import type { SerialPortInfo } from '../../../../app/engine/ports/serial-system.ts'

const USB0 = '/dev/ttyUSB0'
const fern: SerialPortInfo = { path: USB0, vendorId: '1A86', productId: '7523', serialNumber: 'FERN-1' }
const moss: SerialPortInfo = { ...fern, path: '/dev/ttyUSB1', serialNumber: 'MOSS-2' }
const plain = (path: string): SerialPortInfo => ({ path, vendorId: '1a86', productId: '7523' })
const at = (port: SerialPortInfo, path: string): SerialPortInfo => ({ ...port, path })

test('nothing remembered: only the path counts', () => {
  expect(matchPort(USB0, undefined, [moss, fern])).toEqual({ kind: 'found', port: fern, moved: false })
  expect(matchPort('/dev/ttyS0', undefined, [moss, fern])).toEqual({ kind: 'absent' })
  expect(matchPort(USB0, { path: USB0 }, [at(moss, USB0)])).toEqual({
    kind: 'found',
    port: at(moss, USB0),
    moved: false,
  })
})

test('a serial number goes before the path, also where two have changed places', () => {
  const swapped = [at(moss, USB0), at(fern, '/dev/ttyUSB1')]
  expect(matchPort(USB0, fern, swapped)).toEqual({ kind: 'found', port: swapped[1], moved: true })
  expect(matchPort(USB0, fern, [at(moss, USB0)])).toEqual({ kind: 'absent' })
})

test('digits in either case are the same vendor', () => {
  const lower = { ...at(fern, '/dev/ttyUSB4'), vendorId: '1a86' }
  expect(matchPort(USB0, fern, [lower])).toMatchObject({ kind: 'found', moved: true })
})

test('without a serial number: vendor and product, where only one port has them', () => {
  const remembered = plain(USB0)
  expect(matchPort(USB0, remembered, [plain('/dev/ttyACM0')])).toMatchObject({ kind: 'found', moved: true })
  expect(matchPort(USB0, remembered, [plain('/dev/ttyACM0'), plain('/dev/ttyACM1')])).toEqual({
    kind: 'ambiguous',
    ports: [plain('/dev/ttyACM0'), plain('/dev/ttyACM1')],
  })
  expect(matchPort(USB0, remembered, [plain('/dev/ttyACM0'), plain(USB0)])).toMatchObject({
    kind: 'found',
    moved: false,
  })
  expect(matchPort(USB0, remembered, [{ path: USB0, vendorId: '2341', productId: '0042' }])).toEqual({
    kind: 'absent',
  })
})

test('several with one serial number, as cheap adapters have: the one on the path, else nobody guesses', () => {
  const twins = [at(fern, '/dev/ttyUSB7'), at(fern, '/dev/ttyUSB8')]
  expect(matchPort(USB0, fern, twins)).toEqual({ kind: 'ambiguous', ports: twins })
  expect(matchPort('/dev/ttyUSB8', fern, twins)).toMatchObject({
    kind: 'found',
    port: twins[1],
    moved: false,
  })
})

test('ports that other outputs hold are left out', () => {
  const ports = [plain('/dev/ttyACM0'), plain('/dev/ttyACM1')]
  expect(matchPort(USB0, plain(USB0), ports, ['/dev/ttyACM0'])).toMatchObject({
    kind: 'found',
    port: ports[1],
  })
  expect(matchPort(USB0, undefined, [fern], [USB0])).toEqual({ kind: 'absent' })
})

test('a system that knows no more than the path is believed', () => {
  expect(matchPort(USB0, fern, [{ path: USB0 }])).toMatchObject({ kind: 'found', moved: false })
  expect(matchPort(USB0, fern, [{ path: '/dev/ttyUSB1' }])).toEqual({ kind: 'absent' })
})
