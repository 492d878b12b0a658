import { createHash } from 'node:crypto'
import { readFile, realpath, stat } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'
import type { Show } from '../../../src/domain/show.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatFaults } from '../../../src/show/show-fault.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { removeLeftovers, writeWhole } from './atomic-file.ts'
import { fileTrouble } from './file-trouble.ts'

/** Bytes; a show of several hundred songs is a tenth of it. */
const LARGEST = 16_000_000

export type ReadShow =
  | { readonly ok: true; readonly show: Show; readonly notes: readonly string[] }
  | { readonly ok: false; readonly message: string }

export type OpenedFile =
  | {
      readonly ok: true
      readonly show: Show
      /** What was done to an older show to read it. */
      readonly notes: readonly string[]
      /** Absolute. */
      readonly path: string
      /** Tells one content of the file from another. */
      readonly stamp: string
      readonly bytes: Uint8Array
    }
  | { readonly ok: false; readonly message: string }

export type WrittenFile =
  | { readonly ok: true; readonly path: string; readonly stamp: string }
  | { readonly ok: false; readonly message: string }

/** A show from text that somebody chose; the message has every fault of it. */
export function readShowText(text: string): ReadShow {
  if (text.length > LARGEST) return { ok: false, message: 'this is too large to be a show' }
  const parsed = parseShow(text, strategies)
  if (parsed.ok) return parsed
  return { ok: false, message: `not a valid show; nothing was changed\n${formatFaults(parsed.faults)}` }
}

/** The same from bytes of a file. */
export function readShowBytes(bytes: Uint8Array): ReadShow {
  const text = utf8(bytes)
  if (text === undefined) return { ok: false, message: 'not a UTF-8 text; a show is a JSON file in UTF-8' }
  return readShowText(text)
}

/** Reads a show file. Never rejects. */
export async function openShowFile(given: string): Promise<OpenedFile> {
  const path = resolve(given)
  try {
    const found = await stat(path)
    if (found.isDirectory()) return trouble(path, 'that is a folder; choose a file')
    // Reading a pipe or a device might never end.
    if (!found.isFile()) return trouble(path, 'that is no file')
    if (found.size > LARGEST) return trouble(path, 'this is too large to be a show')
    const bytes = await readFile(path)
    const read = readShowBytes(bytes)
    return read.ok
      ? { ok: true, show: read.show, notes: read.notes, path, stamp: stampOf(bytes), bytes }
      : trouble(path, read.message)
  } catch (error) {
    return trouble(path, fileTrouble(error))
  }
}

/** What may be there already when a show is saved. */
export interface Saving {
  /** Of the file as it was last read or written, where this is the file the show came from. */
  readonly known?: string | undefined
  /** Somebody has been asked whether another file may be replaced, and said yes. */
  readonly mayReplace: boolean
  /** Another show is about to be replaced. */
  readonly replacing?: (bytes: Uint8Array) => Promise<void>
}

/** Writes a show file, whole or not at all. Never rejects. */
export async function writeShowFile(
  given: string,
  text: string,
  { known, mayReplace, replacing }: Saving,
): Promise<WrittenFile> {
  const path = resolve(given)
  try {
    const there = await lookAt(path)
    if (there === 'odd') return trouble(path, 'that is no file; choose another name')
    const isOurs = there !== undefined && there.stamp === known
    if (there && !isOurs) {
      const why = whyLeftAlone(there.bytes, known !== undefined, mayReplace)
      if (why !== undefined) return trouble(path, why)
      await replacing?.(there.bytes)
    }
    // The name may be a link: what it leads to is replaced, with the permissions it had.
    await writeWhole(there ? there.path : path, text, there?.mode)
    await removeLeftovers(dirname(there ? there.path : path))
    return { ok: true, path, stamp: stampOf(text) }
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    const missing = code === 'ENOENT' ? 'there is no such folder; make it, or choose another' : undefined
    return trouble(path, `not saved: ${missing ?? fileTrouble(error)}`)
  }
}

/** Why a file that is not as we left it is not written over. */
function whyLeftAlone(bytes: Uint8Array, wasOurs: boolean, mayReplace: boolean): string | undefined {
  if (!readShowBytes(bytes).ok)
    return 'what is in that file cannot be read as a show by this Lanthorn, and was left alone, since somebody may still mend it; save under another name'
  if (wasOurs)
    return 'the file was changed by somebody else since it was opened here, and was left alone; save under another name, then compare the two'
  return mayReplace ? undefined : 'there is a file of that name already; choose another name'
}

/** What was found at a show file's path. */
export type FileSeen =
  | { readonly state: 'gone' }
  | { readonly state: 'unknown'; readonly message: string }
  | {
      readonly state: 'there'
      readonly stamp: string
      readonly bytes: Uint8Array
      readonly changedMs: number
    }

/** Looks at a show file without judging it. Never rejects. */
export async function seeShowFile(path: string): Promise<FileSeen> {
  try {
    const there = await lookAt(path)
    if (there === undefined) return { state: 'gone' }
    if (there === 'odd') return { state: 'unknown', message: 'it is no file any more' }
    const { stamp, bytes, changedMs } = there
    return { state: 'there', stamp, bytes, changedMs }
  } catch (error) {
    return { state: 'unknown', message: fileTrouble(error) }
  }
}

interface There {
  readonly path: string
  readonly mode: number
  readonly stamp: string
  readonly bytes: Uint8Array
  readonly changedMs: number
}

async function lookAt(path: string): Promise<There | 'odd' | undefined> {
  try {
    const real = await realpath(path)
    const found = await stat(real)
    if (!found.isFile()) return 'odd'
    const isHuge = found.size > LARGEST
    const bytes = isHuge ? Buffer.alloc(0) : await readFile(real)
    return {
      path: real,
      mode: found.mode & 0o777,
      stamp: isHuge ? `of ${found.size} bytes` : stampOf(bytes),
      bytes,
      changedMs: found.mtimeMs,
    }
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return undefined
    throw error
  }
}

function utf8(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return undefined
  }
}

/** Tells one content of a file from another. */
export function stampOf(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex')
}

function trouble(path: string, message: string): { readonly ok: false; readonly message: string } {
  return { ok: false, message: `${path}: ${message}` }
}
