import { expect, test } from 'vitest'
import type { PageWindow, PreloadApi } from '../../../app/preload/bridge.ts'
import { exposeBridge } from '../../../app/preload/bridge.ts'
import { CHANNELS } from '../../../app/preload/channels.ts'
import type { DesktopBridge } from '../../../src/contract/desktop-bridge.ts'
import { HOST_PORT } from '../../../src/contract/desktop-bridge.ts'

function exposed() {
  const sent: unknown[][] = []
  const posted: unknown[][] = []
  const listeners = new Map<string, (event: { ports: unknown[] }, payload?: unknown) => void>()
  const names: string[] = []
  let bridge: DesktopBridge | undefined
  const api: PreloadApi = {
    contextBridge: {
      exposeInMainWorld: (name, given) => {
        names.push(name)
        bridge = given as DesktopBridge
      },
    },
    ipcRenderer: {
      send: (channel, ...payload) => void sent.push([channel, ...payload]),
      on: ((channel: string, listener: (event: { ports: unknown[] }) => void) => {
        listeners.set(channel, listener)
      }) as unknown as PreloadApi['ipcRenderer']['on'],
    },
    webUtils: { getPathForFile: (file) => (file as unknown as { path: string }).path },
  }
  const page: PageWindow = {
    location: { origin: 'lanthorn://screens' },
    postMessage: (...words) => void posted.push(words),
  }
  exposeBridge(api, page)
  if (!bridge) throw new Error('nothing was exposed')
  return { bridge, sent, posted, names, listeners }
}

test('one name, and functions that carry no channel and no event', () => {
  const { bridge, names } = exposed()
  expect(names).toEqual(['lanthorn'])
  expect(Object.keys(bridge).sort()).toEqual(['connect', 'onMenu', 'openDialog', 'openDropped', 'saveDialog'])
})

test('the port of the host goes on to the page, and to this page only', () => {
  const { bridge, sent, posted, listeners } = exposed()
  bridge.connect()
  expect(sent).toEqual([[CHANNELS.connect]])
  const port = { a: 'port' }
  listeners.get(CHANNELS.port)?.({ ports: [port] })
  expect(posted).toEqual([[HOST_PORT, 'lanthorn://screens', [port]]])
})

test('dialogs are asked for by the bare word', () => {
  const { bridge, sent } = exposed()
  bridge.openDialog()
  bridge.saveDialog()
  expect(sent).toEqual([[CHANNELS.openDialog], [CHANNELS.saveDialog]])
})

test('a dropped file is named by its path; one without a place on a disk is let go', () => {
  const { bridge, sent } = exposed()
  bridge.openDropped({ path: '/shows/tide.json' })
  bridge.openDropped({ path: '' })
  expect(sent).toEqual([[CHANNELS.openDropped, '/shows/tide.json']])
})

test('only choices that the menu has reach the page', () => {
  const { bridge, listeners } = exposed()
  const got: string[] = []
  bridge.onMenu((command) => got.push(command))
  for (const raw of ['save', 'format-disk', 7, null, 'stage', 'songs'])
    listeners.get(CHANNELS.menu)?.({ ports: [] }, raw)
  expect(got).toEqual(['save', 'stage', 'songs'])
})
