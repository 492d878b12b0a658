import { spawn, spawnSync } from 'node:child_process'
import type { ChildProcess } from 'node:child_process'
import {
  closeSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { MIDI_MODULE_VARIABLE } from '../../app/engine/ports/midi-module.ts'
import type { MidiLoader } from '../../app/engine/ports/midi-module.ts'

/** A sound server of the test's own, and the JACK build of `@julusian/midi` that talks to it. */
export interface JackMidi {
  /** Loads the build into this process. */
  readonly load: MidiLoader
  /** For processes that are to use the same server and build: add to their environment. */
  readonly env: Readonly<Record<string, string>>
  /** Ends the server. Close all ports first: without a server, native calls may wait for a second. */
  stop(): Promise<void>
}

export interface JackOptions {
  /**
   * The server waits for every program in each cycle, so that nothing is lost on a busy machine: the default. A program that is killed stalls
   * such a server; where one is going to be, it must not wait, and may lose a message now and then.
   */
  readonly waits?: boolean
}

const NEEDS = 'install jackd2, libjack-jackd2-dev, util-linux, python3, make and g++'
const FRAMES = 64
let servers = 0

/**
 * Machines that test have no ALSA sequencer, so the stock binary of the module cannot start there; the same source built for JACK needs
 * no kernel at all. Builds it once per version and Node ABI into the folder for temporary files. Throws, with what to install, when a tool is
 * missing. One server for each process: the library reads the server's name from the environment once.
 */
export async function startJackMidi({ waits = true }: JackOptions = {}): Promise<JackMidi> {
  const folder = builtModule()
  servers += 1
  const name = `lanthorn-${process.pid}-${servers}`
  const env = { JACK_DEFAULT_SERVER: name, JACK_NO_START_SERVER: '1', [MIDI_MODULE_VARIABLE]: folder }
  // Into a file: a pipe that nobody reads while a test computes would fill up and stop the server in mid-cycle.
  const log = join(mkdtempSync(join(tmpdir(), 'lanthorn-jackd-')), 'log')
  const file = openSync(log, 'w')
  const cycle = ['-d', 'dummy', '-r', '48000', '-p', String(FRAMES)]
  // A test process that is killed takes its server with it; else each would stay for good.
  const jackd = ['jackd', '-n', name, '-r', ...(waits ? ['-S'] : []), ...cycle]
  const server = spawn('setpriv', ['--pdeathsig', 'KILL', ...jackd], {
    stdio: ['ignore', file, file],
  })
  closeSync(file)
  const end = (): void => void server.kill('SIGKILL')
  process.once('exit', end)
  await ready(server, name, log)
  Object.assign(process.env, env)
  return {
    load: () => createRequire(import.meta.url)(folder) as ReturnType<MidiLoader>,
    env,
    stop: async () => {
      process.off('exit', end)
      await ended(server)
      rmSync(dirname(log), { recursive: true, force: true })
      for (const key of Object.keys(env)) delete process.env[key]
    },
  }
}

/** Waits until the server answers, ten seconds at most. */
async function ready(server: ChildProcess, name: string, log: string): Promise<void> {
  const said = (): string => readFileSync(log, 'utf8').slice(-800)
  const failed: string[] = []
  server.once('error', (error) => failed.push(`${error.message}; ${NEEDS}`))
  server.once('exit', (code) => failed.push(`it ended with ${code}: ${said()}`))
  const deadline = performance.now() + 10_000
  while (failed.length === 0 && performance.now() < deadline) {
    if (await answers(name)) return
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  server.kill('SIGKILL')
  throw new Error(`jackd did not start: ${failed[0] ?? `no answer in 10 s: ${said()}`}`)
}

function answers(name: string): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = spawn('jack_lsp', ['-s', name], {
      stdio: 'ignore',
      env: { ...process.env, JACK_NO_START_SERVER: '1' },
    })
    probe.once('error', () => resolve(false))
    probe.once('exit', (code) => resolve(code === 0))
  })
}

async function ended(server: ChildProcess): Promise<void> {
  if (server.exitCode !== null || server.signalCode !== null) return
  await new Promise<void>((resolve) => {
    const late = setTimeout(() => server.kill('SIGKILL'), 3_000)
    server.once('exit', () => {
      clearTimeout(late)
      resolve()
    })
    server.kill('SIGTERM')
  })
}

/** The folder of the JACK build; makes it if this is the first time. */
function builtModule(): string {
  const require = createRequire(import.meta.url)
  const source = dirname(require.resolve('@julusian/midi/package.json'))
  const { version } = JSON.parse(readFileSync(join(source, 'package.json'), 'utf8')) as { version: string }
  const abi = `${process.platform}-${process.arch}-abi${process.versions.modules}`
  const home = join(tmpdir(), `lanthorn-jack-midi-${version}-${abi}`)
  const built = join(home, 'node_modules', '@julusian', 'midi')
  if (existsSync(join(built, 'build', 'Release', 'midi.node'))) return built

  // Made beside, then put in place in one step: several test processes may come here at once.
  const making = mkdtempSync(`${home}-`)
  try {
    const folder = join(making, 'node_modules', '@julusian', 'midi')
    mkdirSync(folder, { recursive: true })
    cpSync(source, folder, { recursive: true })
    for (const need of ['node-addon-api', 'pkg-prebuilds', 'tslib']) {
      const from = dirname(createRequire(join(source, 'package.json')).resolve(`${need}/package.json`))
      cpSync(from, join(making, 'node_modules', need), { recursive: true })
    }
    useJack(join(folder, 'binding.gyp'))
    compile(folder)
    if (!existsSync(home)) renameSync(making, home)
  } finally {
    rmSync(making, { recursive: true, force: true })
  }
  return built
}

/** HAVE_SEMAPHORE makes an output that closes wait until what it was sent has left. */
function useJack(gyp: string): void {
  const text = readFileSync(gyp, 'utf8')
  const changed = text
    .replace("'__LINUX_ALSA__'", "'__UNIX_JACK__', 'HAVE_SEMAPHORE'")
    .replace("'-lasound'", "'-ljack'")
  if (!changed.includes('__UNIX_JACK__') || !changed.includes('-ljack')) {
    throw new Error(`${gyp} does not look as it did; see what tests/support/jack-midi.ts changes in it`)
  }
  writeFileSync(gyp, changed)
}

/** With the node-gyp that npm brings, and the headers of the Node that runs. */
function compile(folder: string): void {
  const roots = spawnSync('npm', ['root', '-g'], { encoding: 'utf8' })
  const gyp = join(String(roots.stdout).trim(), 'npm', 'node_modules', 'node-gyp', 'bin', 'node-gyp.js')
  const headers = dirname(dirname(process.execPath))
  const here = existsSync(join(headers, 'include', 'node', 'node_api.h')) ? [`--nodedir=${headers}`] : []
  const run = spawnSync(process.execPath, [gyp, 'rebuild', ...here], { cwd: folder, encoding: 'utf8' })
  if (run.status === 0) return
  throw new Error(`the JACK build of @julusian/midi failed (${NEEDS}):\n${String(run.stderr).slice(-2000)}`)
}

/** A connection carries what is sent from the server's next cycles on, 1.3 ms each; what is sent at once may be lost. */
export function connected(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 150))
}
