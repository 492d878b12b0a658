import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'
import { buildLampBox } from './lamp-box-build.ts'
import type { PinEdge } from './pin-edges.ts'
import { emptyLog, readSimulatorLine, type SimulatorLog } from './simulator-lines.ts'

export interface RunningLampBox {
  /** The path to open as a serial port. */
  readonly pty: string
  /** The simulator's process. */
  readonly pid: number
  /** Each change of a lamp's pin so far, in order. */
  pins(): readonly PinEdge[]
  /** All that the simulator has printed so far. */
  log(): SimulatorLog
  /** Pulls the reset pin low for a moment, or takes the box's power away and gives it back; what is sent to it meanwhile is lost. */
  line(word: 'reset' | 'off' | 'on'): void
  /** Ends it, and waits. */
  stop(): Promise<void>
}

/**
 * The real firmware image on a simulated ATmega2560 behind a pty, paced to the wall clock. `link`: a path that leads to the
 * pty while it runs. The caller stops it. Throws where it does not come up within 10 s.
 */
export async function startLampBox(link?: string): Promise<RunningLampBox> {
  const { elf, simulator } = buildLampBox()
  const words = [elf, '--pty', '--control', '--bytes', ...(link === undefined ? [] : ['--link', link])]
  const child = spawn(simulator, words, { stdio: ['pipe', 'pipe', 'pipe'] })
  let complaint = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => (complaint += text))
  const log = emptyLog()
  const lines = createInterface({ input: child.stdout })
  const read = once(lines, 'close')
  const up = new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`the simulator did not start: ${complaint}`)), 10_000)
    child.once('error', reject)
    child.once('exit', (code) => reject(new Error(`the simulator ended with ${code}: ${complaint}`)))
    lines.on('line', (line) => {
      readSimulatorLine(log, line)
      if (log.pty === undefined) return
      clearTimeout(late)
      resolve(log.pty)
    })
  })
  try {
    const pty = await up
    return {
      pty,
      pid: child.pid ?? 0,
      pins: () => log.edges,
      log: () => log,
      line: (word) => void child.stdin.write(`${word}\n`),
      stop: () => stop(child, read),
    }
  } catch (error) {
    child.kill('SIGKILL')
    throw error
  }
}

async function stop(child: ChildProcess, read: Promise<unknown>): Promise<void> {
  if (child.exitCode === null && child.signalCode === null) {
    const gone = once(child, 'exit')
    child.kill('SIGTERM')
    const hard = setTimeout(() => child.kill('SIGKILL'), 5000)
    await gone
    clearTimeout(hard)
  }
  await read
}
