import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { electronBinary, hasDisplay } from '../../../app/cli/electron-binary.ts'
import { scratchFolder } from '../../support/scratch.ts'

/** As the module lies on a disk once its program was fetched: path.txt names it in dist. */
function electronFolder(): string {
  const folder = scratchFolder()
  mkdirSync(join(folder, 'dist'))
  return folder
}

test('the program is where the module says, and only if it is there', () => {
  const folder = electronFolder()
  expect(electronBinary({}, folder)).toBeUndefined()
  writeFileSync(join(folder, 'path.txt'), 'electron')
  expect(electronBinary({}, folder)).toBeUndefined()
  writeFileSync(join(folder, 'dist', 'electron'), '')
  expect(electronBinary({}, folder)).toBe(join(folder, 'dist', 'electron'))
})

test('another place may be named, as Electron itself has it', () => {
  const [folder, other] = [electronFolder(), scratchFolder()]
  const env = { ELECTRON_OVERRIDE_DIST_PATH: other }
  expect(electronBinary(env, folder)).toBeUndefined()
  writeFileSync(join(other, 'electron'), '')
  expect(electronBinary(env, folder)).toBe(join(other, 'electron'))
})

test('no module, no program', () => {
  expect(electronBinary({}, '')).toBeUndefined()
  expect(electronBinary({ ELECTRON_OVERRIDE_DIST_PATH: '/nowhere' }, scratchFolder())).toBeUndefined()
})

test('Linux has a display where it says so; others always', () => {
  expect(hasDisplay({ env: {}, platform: 'linux' })).toBe(false)
  expect(hasDisplay({ env: { DISPLAY: '' }, platform: 'linux' })).toBe(false)
  expect(hasDisplay({ env: { DISPLAY: ':0' }, platform: 'linux' })).toBe(true)
  expect(hasDisplay({ env: { WAYLAND_DISPLAY: 'wayland-0' }, platform: 'linux' })).toBe(true)
  expect(hasDisplay({ env: {}, platform: 'darwin' })).toBe(true)
  expect(hasDisplay({ env: {}, platform: 'win32' })).toBe(true)
})
