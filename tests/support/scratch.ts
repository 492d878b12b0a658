import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'

/** A folder of the test's own, gone when it is over. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lanthorn-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}
