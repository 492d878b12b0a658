import { spawnSync } from 'node:child_process'
import { resolve } from 'node:path'

/** Builds the command once before the tests, so that the system tests never run an old one. */
export function setup(): void {
  const root = resolve(import.meta.dirname, '../..')
  // The runner's own NODE_ENV would make a build for developing of it.
  const env = { ...process.env, NODE_ENV: 'production' }
  const { status, stderr } = spawnSync('npm', ['run', 'build'], { cwd: root, env, encoding: 'utf8' })
  if (status !== 0) throw new Error(`the build failed:\n${stderr.slice(0, 2000)}`)
}
