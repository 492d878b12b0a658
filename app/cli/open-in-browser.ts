import { existsSync } from 'node:fs'
import { homedir } from 'node:os'
import { fileURLToPath } from 'node:url'
import { forkEngine } from '../engine/fork-engine.ts'
import { Host } from '../engine/host/host.ts'
import { stateFolder } from '../engine/host/state-folder.ts'
import { PortTaken } from '../engine/host/web/listeners.ts'
import { WebServer } from '../engine/host/web/web-server.ts'
import { Failure } from './failure.ts'
import { createRemoteLines } from './remote-lines.ts'
import { createTerminalEar } from './terminal-ear.ts'

const SCREENS = fileURLToPath(new URL('./screens', import.meta.url))
const DEMO = {
  show: fileURLToPath(new URL('../assets/shows/glasshouse.json', import.meta.url)),
  take: fileURLToPath(new URL('../assets/shows/glasshouse.mid', import.meta.url)),
}
const SCALES = fileURLToPath(new URL('../assets/scales', import.meta.url))
/** The terminal hears what screens hear, and asks nothing. */
const TERMINAL = { place: 'browser', key: '' } as const
/** Where screens are found unless another program has it. */
const USUAL_PORT = 4117

const CAUTION = `Flashing light can trigger photosensitive seizures; lamps and supplies can burn; the sound can be loud. Lanthorn counts what it can
count. It is not a safety device: follow local codes, and have wiring and power looked at by somebody licensed to.`

export interface OpenArguments {
  readonly rig?: 'real' | 'virtual'
  readonly port?: number
  readonly remote?: boolean
  readonly browser: boolean
}

export interface BrowserMode {
  /** Absolute path; left out: the demo. */
  readonly show: string | undefined
  readonly given: OpenArguments
  /** Whether there is a display that a browser could open on. */
  readonly canShow: boolean
}

/** The host in this process, its screens in a browser. Resolves when it was interrupted and every off has left, or the wait for them ended. */
export async function openInBrowser({ show, given, canShow }: BrowserMode): Promise<void> {
  if (!existsSync(SCREENS)) throw new Failure(`${SCREENS}: the screens are not built; run npm run build`)
  const interrupted = new Promise<void>((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => resolve())
  })
  const state = stateFolder({ env: process.env, platform: process.platform, home: homedir() })
  const { rig } = given
  const host = new Host({
    spawn: forkEngine,
    stateFolder: state,
    demo: DEMO,
    scales: SCALES,
    ...(rig === undefined ? {} : { rig }),
  })
  host.attach(createTerminalEar({ wantsReal: show !== undefined && rig !== 'virtual', say }), TERMINAL)
  const remote = createRemoteLines((line) => say(line))
  const server = await startServer({
    host,
    screens: SCREENS,
    port: given.port ?? USUAL_PORT,
    mayMove: given.port === undefined,
    isRemote: given.remote === true,
    told: remote.told,
  })
  let clean = false
  try {
    const trouble = await host.begin({ show })
    if (trouble !== undefined) process.stderr.write(`${trouble}\n`)
    say(`Lanthorn is open, on this machine, at\n\n  ${server.address}\n`)
    say('Whoever has this address may play and change the show. Ctrl-C darkens every lamp and ends.\n')
    say(`${CAUTION}\n`)
    remote.begin()
    if (given.browser) await openBrowser(server.address, canShow)
    await interrupted
  } finally {
    clean = await host.stop()
    await server.stop()
    const { refusals } = server
    if (refusals.total > 0) say(`Turned away: ${refusals.words()}`)
  }
  if (!clean)
    throw new Failure('The engine was ended before it could say that every off had left; look at the lamps.')
  say('Ended; every lamp is dark.')
}

async function startServer(options: Parameters<typeof WebServer.start>[0]): Promise<WebServer> {
  try {
    return await WebServer.start(options)
  } catch (error) {
    throw error instanceof PortTaken ? new Failure(error.message) : error
  }
}

/** Never fails: the address has been printed. */
async function openBrowser(address: string, canShow: boolean): Promise<void> {
  if (!canShow) return say('There is no display here, so no browser was opened.')
  const missed = (): void => say('No browser could be opened; open the address yourself.')
  try {
    const { default: open } = await import('open')
    const child = await open(address)
    child.once('error', missed)
  } catch {
    missed()
  }
}

function say(line: string): void {
  process.stdout.write(`${line}\n`)
}
