import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { describe } from 'vitest'

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

/** Tests on the real performances; where the folder is absent they are skipped, and their name says why. */
export function describePerformances(name: string, body: () => void): void {
  if (THERE) describe(name, body)
  else describe.skip(`${name} (skipped: ${FOLDER} is not there)`, body)
}
