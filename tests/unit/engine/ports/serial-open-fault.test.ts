import { expect, test } from 'vitest'
import { serialOpenFault } from '../../../../app/engine/ports/serial-open-fault.ts'

const at = (platform: string, said: string, group?: string) =>
  serialOpenFault(new Error(said), { path: platform === 'win32' ? 'COM3' : '/dev/ttyUSB0', platform, group })

test('Linux, no permission: the group to join, as the device has it', () => {
  const named = at('linux', 'Error: Permission denied, cannot open /dev/ttyUSB0', 'uucp')
  expect(named.fault).toBe('permission')
  expect(named.message).toContain('/dev/ttyUSB0')
  expect(named.message).toContain('sudo usermod -a -G uucp "$USER"')
  const unknown = at('linux', 'Error: Permission denied, cannot open /dev/ttyUSB0')
  expect(unknown.message).toContain('sudo usermod -a -G dialout "$USER"')
  expect(unknown.message).toContain('uucp')
  expect(unknown.message).toContain('log out and in again')
})

test('macOS, no permission: where to look, and no word of groups', () => {
  const fault = at('darwin', 'Error: Permission denied, cannot open /dev/ttyUSB0')
  expect(fault.fault).toBe('permission')
  expect(fault.message).toContain('Privacy & Security')
  expect(fault.message).not.toContain('usermod')
})

test('Windows says access denied for a port that another program holds', () => {
  const fault = at('win32', 'Opening COM3: Access denied')
  expect(fault.fault).toBe('busy')
  expect(fault.message).toContain('another program')
  expect(fault.message).toContain('may not open it')
})

test.each([
  ['linux', 'Error Resource temporarily unavailable Cannot lock port', 'busy'],
  ['darwin', 'Error: Resource busy, cannot open /dev/tty.usbserial', 'busy'],
  ['linux', 'Error: Device or resource busy, cannot open /dev/ttyUSB0', 'busy'],
  ['linux', 'Error: No such file or directory, cannot open /dev/ttyUSB0', 'absent'],
  ['linux', 'Error: No such device, cannot open /dev/ttyUSB0', 'absent'],
  ['win32', 'Opening COM3: File not found', 'absent'],
  ['linux', 'Error: Inappropriate ioctl for device', 'failed'],
])('%s: "%s" is %s, and the words are kept', (platform, said, fault) => {
  expect(at(platform, said)).toMatchObject({ fault })
  expect(at(platform, said).message).toContain(said)
})
