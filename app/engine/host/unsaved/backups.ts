import { createHash, randomBytes } from 'node:crypto'
import { mkdir, readdir, readFile, rename, rm, stat, utimes } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { z } from 'zod'
import { writeWhole } from '../atomic-file.ts'

/** What is kept of one show file. */
export interface Backup {
  /** Where its bytes are. */
  readonly path: string
  /** The show file's absolute path. */
  readonly file: string
  /** ISO 8601. */
  readonly at: string
  readonly kind: 'latest' | 'before' | 'aside'
}

const about = z.strictObject({
  format: z.literal('lanthorn-backup'),
  version: z.literal(1),
  file: z.string(),
})

/** Of so many shows; those not used for longest go first. */
const MOST_SHOWS = 50
/** So many of what was written over. */
const MOST_ASIDE = 20

/**
 * Copies of show files beside the settings, so that the player's folder stays clean: of each show what was last good in its file and what was good before that,
 * and what somebody else had put there and was knowingly written over.
 */
export class Backups {
  readonly #folder: string

  constructor(stateFolder: string) {
    this.#folder = join(stateFolder, 'backups')
  }

  /** This is good, and is or was in that file. Rejects with the error of the file system. */
  async keep(file: string, bytes: Uint8Array): Promise<void> {
    const [latest, before] = [this.#path(file, 'latest'), this.#path(file, 'before')]
    const there = await read(latest)
    if (there && Buffer.compare(there, bytes) === 0) {
      const now = new Date()
      return utimes(latest, now, now)
    }
    await this.#begin()
    await this.#writeAbout(aboutPath(this.#path(file, 'latest')), file)
    await this.#writeAbout(aboutPath(before), file)
    if (there) await rename(latest, before)
    await writeWhole(latest, bytes, 0o600)
    await this.#prune()
  }

  /** This was in that file, and is about to be written over. */
  async setAside(file: string, bytes: Uint8Array): Promise<string> {
    await this.#begin()
    const path = join(
      this.#folder,
      `aside-${Date.now()}-${randomBytes(3).toString('hex')}-${hashOf(file)}.json`,
    )
    await this.#writeAbout(aboutPath(path), file)
    await writeWhole(path, bytes, 0o600)
    await this.#prune()
    return path
  }

  /** What was last good in that file, latest first. */
  async of(file: string): Promise<Backup[]> {
    const found = await Promise.all(
      (['latest', 'before'] as const).map((kind) => this.#look(this.#path(file, kind), kind)),
    )
    return found.filter((one) => one !== undefined)
  }

  /** What was written over, of all files. */
  async aside(): Promise<Backup[]> {
    const names = (await this.#names()).filter((name) => name.startsWith('aside-') && name.endsWith('.json'))
    const found = await Promise.all(names.map((name) => this.#look(join(this.#folder, name), 'aside')))
    return found.filter((one) => one !== undefined)
  }

  async #look(path: string, kind: Backup['kind']): Promise<Backup | undefined> {
    try {
      const { mtime } = await stat(path)
      const { file } = about.parse(JSON.parse(await readFile(aboutPath(path), 'utf8')))
      return { path, file, at: mtime.toISOString(), kind }
    } catch {
      return undefined
    }
  }

  async #begin(): Promise<void> {
    await mkdir(this.#folder, { recursive: true, mode: 0o700 })
  }

  async #writeAbout(path: string, file: string): Promise<void> {
    if (await read(path)) return
    await writeWhole(path, `${JSON.stringify({ format: 'lanthorn-backup', version: 1, file })}\n`, 0o600)
  }

  async #prune(): Promise<void> {
    const names = (await this.#names()).filter((name) => name.endsWith('.json'))
    const aged = await Promise.all(
      names.map(async (name) => ({ name, at: await ageOf(join(this.#folder, name)) })),
    )
    aged.sort((a, b) => b.at - a.at)
    const asides = aged.filter(({ name }) => name.startsWith('aside-'))
    const shows = aged.filter(({ name }) => !name.startsWith('aside-'))
    for (const { name } of [...asides.slice(MOST_ASIDE), ...shows.slice(2 * MOST_SHOWS)]) {
      await rm(join(this.#folder, name), { force: true })
      await rm(aboutPath(join(this.#folder, name)), { force: true })
    }
  }

  async #names(): Promise<string[]> {
    try {
      return await readdir(this.#folder)
    } catch {
      return []
    }
  }

  #path(file: string, kind: 'latest' | 'before'): string {
    return join(this.#folder, `${hashOf(file)}-${kind}.json`)
  }
}

/** Beside a backup: which file it is of. Not itself a `.json`. */
function aboutPath(path: string): string {
  return `${path}.about`
}

function hashOf(file: string): string {
  return `${createHash('sha256').update(file).digest('hex').slice(0, 24)}-${basename(file)
    .replace(/[^\w-]/g, '_')
    .slice(0, 40)}`
}

async function ageOf(path: string): Promise<number> {
  try {
    return (await stat(path)).mtimeMs
  } catch {
    return 0
  }
}

async function read(path: string): Promise<Buffer | undefined> {
  try {
    return await readFile(path)
  } catch {
    return undefined
  }
}
