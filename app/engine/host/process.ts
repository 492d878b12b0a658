import { homedir } from 'node:os'
import { fileURLToPath } from 'node:url'
import { forkEngine } from '../fork-engine.ts'
import type { ParentPort } from './app-port.ts'
import { Host } from './host.ts'
import { serveApp } from './serve-app.ts'
import { stateFolder } from './state-folder.ts'

/** The built host lies in a folder beside the assets. */
const asset = (name: string): string => fileURLToPath(new URL(`../assets/${name}`, import.meta.url))

function parentPort(): ParentPort {
  if ('parentPort' in process && process.parentPort) return process.parentPort as ParentPort
  throw new Error('the host of the desktop app is started by the desktop app, with a port to it')
}

let isEnding = false
const end = (): void => {
  if (isEnding) return
  isEnding = true
  const exit = (): void => process.exit(0)
  void host.stop().then(exit, exit)
}

const host = new Host({
  spawn: forkEngine,
  stateFolder: stateFolder({ env: process.env, platform: process.platform, home: homedir() }),
  scales: asset('scales'),
  demo: { show: asset('shows/glasshouse.json'), take: asset('shows/glasshouse.mid') },
  quit: end,
})

// Ctrl-C reaches the whole group; the main process decides when to end, so that the offs can leave.
for (const signal of ['SIGINT', 'SIGHUP'] as const) process.on(signal, () => {})
process.on('SIGTERM', end)

serveApp(host, parentPort())
