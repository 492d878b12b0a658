import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { resolve } from 'node:path'
import { createInterface } from 'node:readline'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { eventually } from './eventually.ts'

const COMMAND = resolve(import.meta.dirname, '../../app/cli/lanthorn.mjs')

/** `lanthorn play SHOW --json` in a process of its own, and what it says. */
export interface PlayProcess {
  /** Of the command itself. */
  readonly pid: number
  readonly said: readonly FromEngine[]
  of<Type extends FromEngine['type']>(type: Type): Extract<FromEngine, { type: Type }>[]
  /** The last state told of a port. */
  portState(id: string): string | undefined
  /** The engine's process, of the last one that greeted. */
  enginePid(): number
  /** What it wrote to standard error. */
  complaints(): string
  /** Interrupts it as Ctrl-C does, and waits for its end, five seconds at most; answers its exit code. */
  interrupt(): Promise<number | null>
}

export async function startPlaying(
  show: string,
  env: Readonly<Record<string, string>>,
  ...words: string[]
): Promise<PlayProcess> {
  const child = spawn(process.execPath, [COMMAND, 'play', show, '--json', ...words], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const said: FromEngine[] = []
  let errors = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text))
  createInterface({ input: child.stdout }).on('line', (line) => said.push(JSON.parse(line) as FromEngine))
  const exit = once(child, 'exit')
  const of = <Type extends FromEngine['type']>(type: Type) =>
    said.filter((message): message is Extract<FromEngine, { type: Type }> => message.type === type)
  const end = async (): Promise<number | null> => {
    if (child.exitCode === null && child.signalCode === null) child.kill('SIGINT')
    const hard = setTimeout(() => child.kill('SIGKILL'), 5_000)
    await exit
    clearTimeout(hard)
    return child.exitCode
  }
  const play: PlayProcess = {
    pid: child.pid ?? 0,
    said,
    of,
    portState: (id) => of('port').findLast(({ port }) => port.id === id)?.port.state,
    enginePid: () => of('hello').at(-1)?.pid ?? 0,
    complaints: () => errors,
    interrupt: end,
  }
  try {
    await eventually(() => of('loaded').length > 0 || child.exitCode !== null, 10_000)
    if (child.exitCode !== null) throw new Error(`play ended with ${child.exitCode}: ${errors}`)
  } catch (error) {
    await play.interrupt()
    throw error
  }
  return play
}
