import { open, rm, stat } from 'node:fs/promises'

/** Milliseconds; whoever holds a lock for longer was ended in the middle of it. */
const STALE_MS = 5_000
const AGAIN_MS = 10

/**
 * Does the work while no other process does work of the same lock, a file that is there as long. Rejects with the error of the file system where that cannot be
 * made, and with what the work rejects with.
 */
export async function inTurn<T>(lock: string, work: () => Promise<T>): Promise<T> {
  while (!(await taken(lock))) {
    await removeStale(lock)
    await new Promise((resolve) => setTimeout(resolve, AGAIN_MS))
  }
  try {
    return await work()
  } finally {
    await rm(lock, { force: true })
  }
}

async function taken(lock: string): Promise<boolean> {
  try {
    const file = await open(lock, 'wx')
    await file.close()
    return true
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false
    throw error
  }
}

async function removeStale(lock: string): Promise<void> {
  try {
    if (Date.now() - (await stat(lock)).mtimeMs > STALE_MS) await rm(lock, { force: true })
  } catch {
    // It is free by now.
  }
}
