import type { ChildProcess } from 'node:child_process'
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { createInterface } from 'node:readline'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { eventually } from '../support/eventually.ts'

const COMMAND = resolve(process.cwd(), 'app/cli/lanthorn.mjs')
const PLANTS =
  'fern moss reed sedge ivy palm lotus vine lily iris sage thyme mint clover bracken nettle'.split(' ')

export const folder = mkdtempSync(join(tmpdir(), 'lanthorn-bench-'))

export interface RigShow {
  readonly lamps: number
  readonly output: Record<string, unknown>
  readonly strategy: Record<string, unknown>
  readonly tempo?: number
  readonly clock?: Record<string, unknown>
}

/** A show file with one keyboard and one part on all lamps of one output. */
export function writeShow({ lamps, output, strategy, tempo = 120, clock = {} }: RigShow): string {
  const ids = PLANTS.slice(0, lamps)
  const path = join(folder, `show-${Math.random().toString(36).slice(2)}.json`)
  writeFileSync(
    path,
    JSON.stringify({
      format: 'lanthorn-show',
      version: 1,
      title: 'Bench',
      clock,
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 100 }],
        outputs: [{ id: 'out', ...output }],
        lamps: ids.map((id, slot) => ({
          id,
          output: 'out',
          slot,
          supply: 'bench',
          watts: 10,
          lowHz: 10,
          highHz: 13_000,
        })),
      },
      players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
      songs: [
        { id: 'song', title: 'Song', tempo, parts: [{ id: 'part', player: 'keys', lamps: ids, strategy }] },
      ],
    }),
  )
  return path
}

export interface Player {
  readonly said: FromEngine[]
  /** Milliseconds from the start of the process to `loaded`. */
  readonly readyAfter: number
  stop(): Promise<void>
}

/** `lanthorn play`, ready to play. */
export async function play(show: string, env: Readonly<Record<string, string>>): Promise<Player> {
  const began = performance.now()
  const child = spawn(process.execPath, [COMMAND, 'play', show, '--json'], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const said: FromEngine[] = []
  let readyAfter = 0
  createInterface({ input: child.stdout }).on('line', (line) => {
    const message = JSON.parse(line) as FromEngine
    if (message.type === 'loaded') readyAfter = performance.now() - began
    said.push(message)
  })
  const isOpen = (id: string): boolean =>
    said.some(
      (message) =>
        message.type === 'port' && message.port.id === id && ['open', 'ready'].includes(message.port.state),
    )
  await eventually(() => isOpen('keys') && isOpen('out'), 15_000)
  return { said, readyAfter, stop: () => end(child) }
}

/** One core kept busy by another process; returns what ends it. */
export function keepBusy(): () => Promise<void> {
  const child = spawn(process.execPath, ['-e', 'for (;;) {}'], { stdio: 'ignore' })
  return async () => {
    child.kill('SIGKILL')
    await once(child, 'exit')
  }
}

export async function end(child: ChildProcess): Promise<void> {
  if (child.exitCode === null) child.kill('SIGINT')
  await once(child, 'exit')
}
