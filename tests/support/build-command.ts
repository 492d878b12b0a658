import { spawnSync } from 'node:child_process'
import { resolve } from 'node:path'

/** Builds the command once before the tests, so that the system tests never run an old one. */
export function setup(): void {
  const root = resolve(import.meta.dirname, '../..')
  const { status, stderr } = spawnSync('npm', ['run', 'build'], { cwd: root, encoding: 'utf8' })
  if (status !== 0) throw new Error(`the build failed:\n${stderr.slice(0, 2000)}`)
}
