import { randomBytes } from 'node:crypto'
import { readFileSync, statSync } from 'node:fs'
import { mkdir, readdir, rename, rm, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { SupervisorTimers } from '../../supervisor.ts'
import { removeLeftovers } from '../atomic-file.ts'

/** How often a process says that it lives. */
const ALIVE_MS = 5_000
/** A process that has said nothing for so long has ended, even where its number is some other's by now. */
const SILENT_MS = 60_000
/** So many of what was thrown away are kept. */
const MOST_DROPPED = 20
const JOURNAL = '.journal'
const ALIVE = '.alive'

/**
 * The folder of unsaved work. Several processes may use it at once: each writes only journals with its own name, and says that it lives in a file with its
 * number; the journals of those that do not live any more are there to be taken over.
 */
export class WorkFolder {
  /** This process's name, no other's before or after. */
  readonly owner = `${Date.now().toString(36)}${randomBytes(4).toString('hex')}`
  readonly #folder: string
  readonly #dropped: string
  readonly #timers: SupervisorTimers
  #count = 0
  #lastDrop = 0
  #stopTimer = (): void => {}

  constructor(stateFolder: string, timers: SupervisorTimers) {
    this.#folder = join(stateFolder, 'unsaved')
    this.#dropped = join(stateFolder, 'dropped')
    this.#timers = timers
  }

  /** Says that this process lives, from now on. Rejects where the folder cannot be written to. */
  async begin(): Promise<void> {
    await mkdir(this.#folder, { recursive: true, mode: 0o700 })
    await removeLeftovers(this.#folder)
    await this.#sayAlive()
    this.#beat()
  }

  /** This process uses the folder no more. */
  async end(): Promise<void> {
    this.#stopTimer()
    await rm(this.#alivePath(this.owner), { force: true }).catch(() => {})
  }

  /** Where the next journal of this process may be. */
  nextJournal(): string {
    this.#count += 1
    return join(this.#folder, `${this.owner}.${this.#count}${JOURNAL}`)
  }

  /** Whole path of a journal by its name. */
  pathOf(name: string): string {
    return join(this.#folder, basename(name))
  }

  /** Whether that process is another one and lives. */
  isAliveElsewhere(owner: string): boolean {
    if (owner === this.owner) return false
    const path = this.#alivePath(owner)
    try {
      if (Date.now() - statSync(path).mtimeMs > SILENT_MS) return false
      return lives(Number(readFileSync(path, 'utf8')))
    } catch {
      return false
    }
  }

  /** Journals that nobody writes to any more, but for `own`. */
  async journals(own: string | undefined): Promise<string[]> {
    const names = await this.#names()
    return names
      .filter((name) => name.endsWith(JOURNAL) && !this.isAliveElsewhere(ownerOf(name)))
      .map((name) => join(this.#folder, name))
      .filter((path) => path !== own)
  }

  /** Not wanted any more; the last few can still be had by hand. */
  async drop(path: string): Promise<void> {
    await mkdir(this.#dropped, { recursive: true, mode: 0o700 })
    // Rising, so that the oldest go first.
    this.#lastDrop = Math.max(Date.now(), this.#lastDrop + 1)
    await rename(path, join(this.#dropped, `${this.#lastDrop}-${basename(path)}`))
    const names = (await readdir(this.#dropped)).sort((a, b) => Number.parseInt(a) - Number.parseInt(b))
    for (const name of names.slice(0, -MOST_DROPPED)) await rm(join(this.#dropped, name), { force: true })
  }

  /** What processes that were ended hard have left of themselves. */
  async tidy(): Promise<void> {
    const names = await this.#names()
    for (const name of names.filter((one) => one.endsWith(ALIVE))) {
      const owner = ownerOf(name)
      if (owner !== this.owner && !this.isAliveElsewhere(owner))
        await rm(join(this.#folder, name), { force: true })
    }
  }

  async #names(): Promise<string[]> {
    try {
      return await readdir(this.#folder)
    } catch {
      return []
    }
  }

  #alivePath(owner: string): string {
    return join(this.#folder, `${basename(owner)}${ALIVE}`)
  }

  async #sayAlive(): Promise<void> {
    await writeFile(this.#alivePath(this.owner), `${process.pid}\n`, { mode: 0o600 })
  }

  #beat(): void {
    this.#stopTimer = this.#timers.after(ALIVE_MS, () => {
      void this.#sayAlive().catch(() => {})
      this.#beat()
    })
  }
}

function ownerOf(name: string): string {
  return name.split('.')[0] ?? ''
}

function lives(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // It is there, and is somebody else's.
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}
