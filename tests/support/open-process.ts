import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { resolve } from 'node:path'
import { onTestFinished } from 'vitest'
import { eventually } from './eventually.ts'
import { scratchFolder } from './scratch.ts'

const COMMAND = resolve(import.meta.dirname, '../../app/cli/lanthorn.mjs')

/** `lanthorn open --no-browser` in a process of its own. */
export interface OpenProcess {
  /** `127.0.0.1:PORT` */
  readonly at: string
  readonly key: string
  /** Standard output so far. */
  out(): string
  /** Standard error so far. */
  err(): string
  /** The code that was printed last, without its gap. */
  code(): string
  /** The first address for other devices, as `192.168.1.20:4117`. */
  networkAt(): string
  /** As Ctrl-C does; answers the exit code. */
  interrupt(): Promise<number | null>
  /** As a power cut does. */
  kill(): Promise<void>
}

/** Starts it, with a state of its own, and waits for its address; it is ended with the test. */
export function startOpen(...words: string[]): Promise<OpenProcess> {
  return startOpenIn(scratchFolder(), ...words)
}

/** The same, with the state that another one left. */
export async function startOpenIn(state: string, ...words: string[]): Promise<OpenProcess> {
  const env = { ...process.env, LANTHORN_STATE: state }
  const child = spawn(process.execPath, [COMMAND, 'open', '--no-browser', '--port', '0', ...words], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let [out, err] = ['', '']
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text))
  const exit = once(child, 'exit')
  const interrupt = async (): Promise<number | null> => {
    if (child.exitCode === null && child.signalCode === null) child.kill('SIGINT')
    const hard = setTimeout(() => child.kill('SIGKILL'), 10_000)
    await exit
    clearTimeout(hard)
    return child.exitCode
  }
  onTestFinished(async () => void (await interrupt()))
  const found = (): RegExpExecArray | null => /http:\/\/(127\.0\.0\.1:\d+)\/#key=([\w-]+)\n/.exec(out)
  await eventually(() => found() !== null || child.exitCode !== null, 20_000)
  const [, at, key] = found() ?? []
  if (at === undefined || key === undefined) throw new Error(`open ended with ${child.exitCode}: ${err}`)
  return {
    at,
    key,
    out: () => out,
    err: () => err,
    code: () => {
      const codes = [...out.matchAll(/^Code: (\d{3}) (\d{3}),/gm)].at(-1)
      return `${codes?.[1]}${codes?.[2]}`
    },
    networkAt: () => {
      const address = /^Other devices: http:\/\/([\d.]+:\d+)\//m.exec(out)?.[1]
      if (address === undefined) throw new Error('this machine is on no network; the test needs one')
      return address
    },
    interrupt,
    kill: async () => {
      child.kill('SIGKILL')
      await exit
    },
  }
}
