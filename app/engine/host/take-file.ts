import { readFile, stat } from 'node:fs/promises'
import { basename, isAbsolute, relative, resolve } from 'node:path'
import { fileTrouble } from './file-trouble.ts'

/** Bytes; an hour of a busy band is a twentieth of it. */
const LARGEST = 32_000_000

export type TakeFile =
  { readonly ok: true; readonly bytes: Uint8Array } | { readonly ok: false; readonly why: string }

/**
 * The file of a take, as a show names it: a path from the show's folder. Nothing outside that folder is looked at, since a show may come from anywhere. `folder`
 * undefined: the show has no file. Never rejects.
 */
export async function readTakeFile(folder: string | undefined, take: string): Promise<TakeFile> {
  if (folder === undefined)
    return {
      ok: false,
      why: 'the show has no file yet, so there is no folder to look in; save the show first',
    }
  const path = resolve(folder, take)
  const way = relative(folder, path)
  if (way === '' || isAbsolute(take) || isAbsolute(way) || way.split(/[\\/]/)[0] === '..')
    return {
      ok: false,
      why: 'takes are looked for in the folder of the show and below it; put it there, and name it from there',
    }
  return readMidiBytes(path)
}

/** Any file that may be a take. Never rejects. */
export async function readMidiBytes(path: string): Promise<TakeFile> {
  try {
    const found = await stat(path)
    if (found.isDirectory()) return { ok: false, why: 'that is a folder; name a file' }
    // Reading a pipe or a device might never end.
    if (!found.isFile()) return { ok: false, why: 'that is no file' }
    if (found.size > LARGEST) return { ok: false, why: 'this is too large to be a take' }
    return { ok: true, bytes: await readFile(path) }
  } catch (error) {
    // Where files lie on this machine is nobody's business elsewhere.
    return { ok: false, why: fileTrouble(error).replaceAll(path, basename(path)) }
  }
}
