import { mkdir, open, rm } from 'node:fs/promises'
import type { FileHandle } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { SupervisorTimers } from '../../supervisor.ts'
import { syncFolder, writeWhole } from '../atomic-file.ts'
import { fileTrouble } from '../file-trouble.ts'
import type { Work } from './journal-file.ts'
import { changeBytes, journalBytes } from './journal-file.ts'

export interface JournalOptions {
  readonly path: string
  readonly timers: SupervisorTimers
  /** On the disk, and outlives a power cut: the work up to this revision. */
  readonly kept: (revision: number) => void
  /** Why work is not being kept; null: it is again. */
  readonly trouble: (message: string | null) => void
}

/** The disk is made to write for good so often at most. */
const SYNC_MS = 250
/** Bytes of changes before the whole text is written in their place; never less than eight times the text. */
const MOST_CHANGES = 1_000_000
/** How soon a disk that did not take it is tried again. */
const AGAIN_MS = 5_000

/**
 * Work that is not saved yet, in a file of its own: the show's text, then each change of it, so that a process that is killed or a power cut costs nothing that
 * was told as kept. The file is there only while something is unsaved. Whatever the disk does, nothing is thrown and nobody waits.
 */
export class Journal {
  readonly path: string
  readonly #options: JournalOptions
  /** Undefined: nothing is unsaved. */
  #want: Work | undefined
  /** What the file has, in the system's hands if not on the disk. */
  #have: Work | undefined
  #file: FileHandle | undefined
  #changes = 0
  #isUnsynced = false
  /** The disk failed, and what the file has is not known. */
  #isLost = false
  #lastSync = -Infinity
  #isUrgent = false
  #isFailing = false
  #isClosed = false
  #running: Promise<void> | undefined
  #stopTimer = (): void => {}

  constructor(options: JournalOptions) {
    this.#options = options
    this.path = options.path
  }

  /** This is the work now. */
  note(work: Work): void {
    if (this.#isClosed) return
    this.#want = work
    void this.#run()
  }

  /** Everything is saved, or wanted no more. */
  clear(): void {
    if (this.#isClosed) return
    this.#want = undefined
    if (this.#isBehind) void this.#run()
  }

  /** Resolves when all is on the disk, or the disk does not take it. */
  async flush(): Promise<void> {
    this.#isUrgent = true
    await this.#run()
    if (this.#isBehind && !this.#isFailing) await this.#run()
    this.#isUrgent = false
  }

  /** The same, and lets go of the file; it stays where something is unsaved. */
  async close(): Promise<void> {
    await this.flush()
    this.#isClosed = true
    this.#stopTimer()
    await this.#letGo()
  }

  get #isBehind(): boolean {
    return this.#isStale || this.#isUnsynced
  }

  get #isStale(): boolean {
    return this.#want !== this.#have || this.#isLost
  }

  #run(): Promise<void> {
    this.#running ??= this.#work().finally(() => {
      this.#running = undefined
      // What came in its last moment.
      if (this.#isStale && !this.#isFailing) void this.#run()
    })
    return this.#running
  }

  async #work(): Promise<void> {
    this.#stopTimer()
    try {
      while (this.#isBehind) {
        if (this.#isStale) await this.#write(this.#want, this.#have)
        else if (!(await this.#sync())) return
      }
      if (this.#isFailing) this.#options.trouble(null)
      this.#isFailing = false
    } catch (error) {
      await this.#failed(error)
    }
  }

  async #write(want: Work | undefined, have: Work | undefined): Promise<void> {
    const most = Math.max(MOST_CHANGES, 8 * (want?.text.length ?? 0))
    if (want === undefined) await this.#remove()
    else if (!this.#file || have?.base !== want.base || this.#changes > most) await this.#rewrite(want)
    else {
      const bytes = changeBytes(have, want, new Date().toISOString())
      await this.#file.appendFile(bytes)
      this.#changes += bytes.length
      this.#isUnsynced = true
    }
    this.#have = want
    this.#isLost = false
  }

  async #rewrite(want: Work): Promise<void> {
    const { path, timers, kept } = this.#options
    await this.#letGo()
    await mkdir(dirname(path), { recursive: true })
    await writeWhole(path, journalBytes(want, new Date().toISOString()), 0o600)
    this.#file = await open(path, 'a')
    this.#changes = 0
    this.#isUnsynced = false
    this.#lastSync = timers.now()
    kept(want.revision)
  }

  async #remove(): Promise<void> {
    await this.#letGo()
    this.#isUnsynced = false
    await rm(this.path, { force: true })
    await syncFolder(dirname(this.path))
  }

  /** False: later. */
  async #sync(): Promise<boolean> {
    const { timers, kept } = this.#options
    const wait = this.#lastSync + SYNC_MS - timers.now()
    if (wait > 0 && !this.#isUrgent) {
      this.#stopTimer = timers.after(wait, () => void this.#run())
      return false
    }
    await this.#file?.datasync()
    this.#isUnsynced = false
    this.#lastSync = timers.now()
    if (this.#have) kept(this.#have.revision)
    return true
  }

  /** What the file has now is not known: it is written anew when the disk takes it. */
  async #failed(error: unknown): Promise<void> {
    const { timers, trouble } = this.#options
    await this.#letGo()
    this.#have = undefined
    this.#isLost = true
    this.#isUnsynced = false
    if (!this.#isFailing) trouble(fileTrouble(error))
    this.#isFailing = true
    if (!this.#isClosed) this.#stopTimer = timers.after(AGAIN_MS, () => void this.#run())
  }

  async #letGo(): Promise<void> {
    const file = this.#file
    this.#file = undefined
    await file?.close().catch(() => {})
  }
}
