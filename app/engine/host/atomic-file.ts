import { randomBytes } from 'node:crypto'
import { open, readdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'

const BEFORE = '.lanthorn-'
const AFTER = '.part'
/** Milliseconds; nothing is being written for so long. */
const OLD_MS = 60_000

/**
 * Puts `text` where `path` is, all of it or nothing: written beside it, on the disk before it takes the name. Whatever goes wrong, the file that had the
 * name before is as it was. Rejects with the error of the file system. `mode`: its permissions; left out: as usual for new files.
 */
export async function writeWhole(path: string, text: string | Uint8Array, mode?: number): Promise<void> {
  const folder = dirname(path)
  const beside = join(folder, `${BEFORE}${randomBytes(6).toString('hex')}${AFTER}`)
  try {
    const file = await open(beside, 'wx')
    try {
      if (mode !== undefined) await file.chmod(mode)
      await file.writeFile(text)
      await file.sync()
    } finally {
      await file.close()
    }
    await rename(beside, path)
  } catch (error) {
    await rm(beside, { force: true }).catch(() => {})
    throw error
  }
  await syncFolder(folder)
}

/** So that the new name outlives a power cut too; some systems cannot, and the file is whole in any case. */
export async function syncFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, 'r')
    await handle.sync().finally(() => handle.close())
  } catch {
    // Nothing to be done, and nothing lost.
  }
}

/** Removes what a process that was ended in the middle of `writeWhole` has left in a folder. Never rejects. */
export async function removeLeftovers(folder: string): Promise<void> {
  try {
    const names = await readdir(folder)
    for (const name of names.filter((one) => one.startsWith(BEFORE) && one.endsWith(AFTER))) {
      const path = join(folder, name)
      if (Date.now() - (await stat(path)).mtimeMs > OLD_MS) await rm(path, { force: true })
    }
  } catch {
    // They take a little room, and harm nobody.
  }
}
