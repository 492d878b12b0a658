import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { beforeEach } from 'vitest'

/** Real performances live beside the project, not in it. */
const FOLDER = resolve(import.meta.dirname, '../../../shared/data/performances')
const THERE = existsSync(FOLDER)

/** The bytes of one of them, by its path in the folder. */
export function performanceBytes(path: string): Uint8Array {
  return Uint8Array.from(readFileSync(join(FOLDER, path)))
}

export function performancePaths(): string[] {
  if (!THERE) return []
  return readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.mid'))
    .sort()
}

/** To be called in a `describe`: where the folder is absent, its tests are skipped with a message that says so. */
export function skipWithoutPerformances(): void {
  if (!THERE) console.warn(`SKIPPED, the real performances are not there: ${FOLDER}`)
  beforeEach((context) => context.skip(!THERE, `${FOLDER} is not there`))
}
