import { spawnSync } from 'node:child_process'
import { resolve } from 'node:path'

const COMMAND = resolve(import.meta.dirname, '../../app/cli/lanthorn.mjs')

export interface Ran {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** Runs the built command as a person would, in a process of its own. */
export function lanthorn(...words: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [COMMAND, ...words], {
    encoding: 'utf8',
    timeout: 60_000,
  })
  return { code: status, out: stdout, err: stderr }
}
