import type { MenuItemConstructorOptions } from 'electron'
import { expect, test } from 'vitest'
import { menuTemplate } from '../../../app/main/menu.ts'
import { CHANNELS } from '../../../app/preload/channels.ts'
import { startDesktop } from '../../support/desktop.ts'

function items(template: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return template.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? items(item.submenu) : [])])
}

function labelled(
  template: readonly MenuItemConstructorOptions[],
  label: string,
): MenuItemConstructorOptions {
  const found = items(template).find((item) => item.label?.replaceAll('&', '') === label)
  if (!found) throw new Error(`no "${label}" in the menu`)
  return found
}

function press(template: readonly MenuItemConstructorOptions[], label: string): void {
  const { click } = labelled(template, label)
  ;(click as unknown as () => void)()
}

const IDLE = { command: () => {}, dark: () => {}, openFile: () => {}, openDemo: () => {}, reload: () => {} }

test.each(['linux', 'darwin', 'win32'] as const)('on %s no two items share an accelerator', (platform) => {
  const template = menuTemplate(IDLE, [], platform)
  const accelerators = items(template).flatMap(({ accelerator }) =>
    accelerator === undefined ? [] : [String(accelerator)],
  )
  expect(new Set(accelerators).size).toBe(accelerators.length)
  expect(accelerators.length).toBeGreaterThan(12)
  expect(template.some(({ role }) => role === 'appMenu')).toBe(platform === 'darwin')
})

test('Dark goes straight to the host: it needs no window', async () => {
  const { electron } = await startDesktop()
  expect(labelled(electron.menu, 'Dark').accelerator).toBe('F8')
  electron.window.emit('closed')
  press(electron.menu, 'Dark')
  expect(electron.child.types().at(-1)).toBe('dark-all')
})

test.each([
  ['Save', 'save'],
  ['Undo', 'undo'],
  ['Next song', 'next-song'],
  ['Songs', 'songs'],
  ['Checks', 'checks'],
])('%s is done by the window', async (label, command) => {
  const { electron } = await startDesktop()
  press(electron.menu, label)
  expect(electron.window.webContents.sent).toEqual([{ channel: CHANNELS.menu, payload: command, ports: [] }])
})

test('page keys stay with the page', () => {
  expect(labelled(menuTemplate(IDLE, [], 'linux'), 'Next song').registerAccelerator).toBe(false)
})

test('shows opened before are in the menu, latest first, and open', async () => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  say({ type: 'recent', files: ['/shows/ebb.json', '/shows/flood.json'] })
  const { submenu } = labelled(electron.menu, 'Open recent')
  expect((submenu as MenuItemConstructorOptions[]).map(({ label }) => label)).toEqual([
    '/shows/ebb.json',
    '/shows/flood.json',
  ])
  press(electron.menu, '/shows/flood.json')
  expect(electron.child.got.at(-1)?.message).toMatchObject({ type: 'open-file', path: '/shows/flood.json' })
})
