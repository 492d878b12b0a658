import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Desktop } from '../../app/main/desktop.ts'
import type { FromHost } from '../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { demoShow } from './demo.ts'
import { StandInElectron } from './stand-in-electron.ts'

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never

/** A desktop app on a stand-in for Electron, ready unless it was not the first. */
export async function startDesktop(
  options: { readonly words?: readonly string[]; readonly electron?: StandInElectron } = {},
) {
  const electron = options.electron ?? new StandInElectron()
  const screens = mkdtempSync(join(tmpdir(), 'lanthorn-screens-'))
  writeFileSync(join(screens, 'index.html'), '<!doctype html><title>Lanthorn</title>')
  const waits: { readonly ms: number; readonly call: () => void }[] = []
  const desktop = new Desktop({
    electron: electron.api,
    paths: { host: '/app/dist/host.js', preload: '/app/dist/preload.cjs', screens },
    words: options.words ?? [],
    folder: '/home/player/shows',
    platform: 'linux',
    after: (ms, call) => void waits.push({ ms, call }),
  })
  const isFirst = desktop.start()
  if (isFirst) await electron.ready()
  const say = (message: WithoutVersion<FromHost>): void =>
    electron.child.emit('message', { v: CONTRACT_VERSION, ...message })
  return { electron, desktop, isFirst, screens, waits, say }
}

/** What the host says of a show that is open. */
export function showWord(
  over: Partial<Extract<WithoutVersion<FromHost>, { type: 'show' }>> = {},
): WithoutVersion<FromHost> {
  return {
    type: 'show',
    revision: 1,
    show: demoShow(),
    file: '/home/player/shows/tide.json',
    isSaved: true,
    undo: null,
    redo: null,
    rig: 'virtual',
    isDemo: false,
    isLocked: false,
    ...over,
  }
}
