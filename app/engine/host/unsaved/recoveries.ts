import { existsSync } from 'node:fs'
import { readFile, rm } from 'node:fs/promises'
import { basename } from 'node:path'
import { fileTrouble } from '../file-trouble.ts'
import { readShowBytes, seeShowFile, stampOf } from '../show-file.ts'
import type { Backup, Backups } from './backups.ts'
import type { JournalBase } from './journal-file.ts'
import { readJournal } from './journal-file.ts'
import type { WorkFolder } from './work-folder.ts'

/** Work that is not in its file, and can be had back. */
export interface Recovery {
  readonly id: string
  readonly title: string
  /** Absolute path; null: it never had one. */
  readonly file: string | null
  /** When it was last written, ISO 8601. */
  readonly at: string
  /** What it is, for a person. */
  readonly message: string
}

/** A recovery as it is opened. */
export interface RecoveredWork {
  readonly file: string | null
  readonly bytes: Uint8Array
  /** What is in its file now, where that is what the work was made from or what we put there; undefined: the file is another's by now. */
  readonly stamp: string | undefined
}

interface Found {
  readonly recovery: Recovery
  readonly path: string
  readonly bytes: Uint8Array
  /** What its file may hold without anything of somebody else's being lost. */
  readonly base: JournalBase
}

export interface RecoveriesOptions {
  readonly work: WorkFolder
  readonly backups: Backups
  /** Something that a person should know of. */
  readonly note: (message: string) => void
}

/** Nobody looks through more; the oldest are set aside. */
const MOST_JOURNALS = 50

/** Finds what was not saved: journals that no process writes to any more, copies of files that cannot be read, and what was written over. */
export class Recoveries {
  readonly #options: RecoveriesOptions
  #found: readonly Found[] = []
  readonly #noted = new Set<string>()

  constructor(options: RecoveriesOptions) {
    this.#options = options
  }

  /** As of the last look, latest first. */
  get list(): readonly Recovery[] {
    return this.#found.map(({ recovery }) => recovery)
  }

  /** Looks again. `own`: the journal that is being written. `broken`: show files that could not be opened. Never rejects. */
  async look(own: string | undefined, broken: Iterable<string>): Promise<void> {
    const { backups } = this.#options
    try {
      const journals = await this.#journals(own)
      const copies = [
        ...(await backups.aside()),
        ...(await Promise.all([...broken].map((file) => backups.of(file)))).flat(),
      ]
      const kept = await Promise.all(copies.map((copy) => this.#backup(copy)))
      this.#found = [...journals, ...kept]
        .filter((one) => one !== undefined)
        .sort((a, b) => (a.recovery.at < b.recovery.at ? 1 : -1))
    } catch (error) {
      this.#note(`unsaved work cannot be looked for: ${fileTrouble(error)}`)
    }
  }

  /** Its bytes and what its file is now; undefined: there is no such recovery any more. */
  async open(id: string): Promise<RecoveredWork | undefined> {
    const found = this.#of(id)
    return found && (await recovered(found.bytes, found.base))
  }

  /** Moves it to what was thrown away. Undefined: done; else why not. */
  async drop(id: string): Promise<string | undefined> {
    const found = this.#of(id)
    if (!found) return 'that is not there any more'
    try {
      await this.#options.work.drop(found.path)
      return undefined
    } catch (error) {
      return `${found.path}: ${fileTrouble(error)}`
    }
  }

  /** The work in a journal, whether it is offered or not; undefined where there is none. */
  async ofJournal(name: string): Promise<(RecoveredWork & { readonly path: string }) | undefined> {
    const path = this.#options.work.pathOf(name)
    try {
      const read = readJournal(await readFile(path))
      if (read.state !== 'read') return undefined
      return { ...(await recovered(Buffer.from(read.work.text), read.work.base)), path }
    } catch {
      return undefined
    }
  }

  #of(id: string): Found | undefined {
    return this.#found.find(({ recovery }) => recovery.id === id)
  }

  async #journals(own: string | undefined): Promise<Found[]> {
    const { work } = this.#options
    const all = await Promise.all((await work.journals(own)).map((path) => this.#readable(path)))
    const found = all
      .filter((one) => one !== undefined)
      .sort((a, b) => (a.recovery.at < b.recovery.at ? 1 : -1))
    for (const { path } of found.slice(MOST_JOURNALS)) await work.drop(path)
    return found.slice(0, MOST_JOURNALS)
  }

  async #readable(path: string): Promise<Found | undefined> {
    try {
      return await this.#journal(path)
    } catch (error) {
      // Another process may have taken it meanwhile.
      if (existsSync(path)) this.#note(`${path} may have unsaved work: ${fileTrouble(error)}`)
      return undefined
    }
  }

  async #journal(path: string): Promise<Found | undefined> {
    const read = readJournal(await readFile(path))
    if (read.state === 'newer') {
      this.#note(`${path} has unsaved work of a newer Lanthorn; it was left alone`)
      return undefined
    }
    if (read.state === 'broken') {
      await this.#options.work.drop(path)
      this.#note(`${path} has nothing whole in it, and was set aside`)
      return undefined
    }
    const { base, text } = read.work
    const { file } = base
    const seen = file === null ? undefined : await seeShowFile(file)
    if (seen?.state === 'there' && seen.stamp === stampOf(text)) {
      // It was saved; only the process had no time to say so.
      await rm(path, { force: true })
      return undefined
    }
    const message = ((): string => {
      if (file === null || !seen) return 'A show that was never saved.'
      const name = basename(file)
      if (seen.state === 'gone') return `Changes that were not saved; ${name} is not there any more.`
      if (seen.state === 'unknown') return `Changes that were not saved; ${name} cannot be looked at.`
      if (base.stamps.includes(seen.stamp)) return `Changes to ${name} that were not saved.`
      return readShowBytes(seen.bytes).ok
        ? `Changes that were not saved; ${name} was changed by somebody else since.`
        : `Changes that were not saved; ${name} cannot be read any more.`
    })()
    const bytes = Buffer.from(text)
    const recovery = { id: basename(path), title: titleOf(bytes, file), file, at: read.at, message }
    return { recovery, path, bytes, base }
  }

  async #backup({ path, file, at, kind }: Backup): Promise<Found | undefined> {
    const bytes = await readFile(path)
    const name = basename(file)
    const message = {
      latest: `${name} as it was last opened or saved here.`,
      before: `${name} as it was before it was last saved here.`,
      aside: `What somebody else had put into ${name}, before it was written over here.`,
    }[kind]
    const recovery = { id: basename(path), title: titleOf(bytes, file), file, at, message }
    return { recovery, path, bytes, base: { file, stamps: [] } }
  }

  /** Each thing once. */
  #note(message: string): void {
    if (this.#noted.has(message)) return
    this.#noted.add(message)
    this.#options.note(message)
  }
}

async function recovered(bytes: Uint8Array, { file, stamps }: JournalBase): Promise<RecoveredWork> {
  const seen = file === null ? undefined : await seeShowFile(file)
  const isOurs = seen?.state === 'there' && stamps.includes(seen.stamp)
  return { file, bytes, stamp: isOurs ? seen.stamp : undefined }
}

function titleOf(bytes: Uint8Array, file: string | null): string {
  const read = readShowBytes(bytes)
  return read.ok ? read.show.title : file === null ? 'A show' : basename(file)
}
