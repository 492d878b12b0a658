import { mkdir, open, rm, stat } from 'node:fs/promises'
import type { FileHandle } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { SupervisorTimers } from '../../supervisor.ts'
import { syncFolder, writeWhole } from '../atomic-file.ts'
import { fileTrouble } from '../file-trouble.ts'
import type { JournalBase, Work } from './journal-file.ts'
import { changeBytes, journalBytes, putBytes } from './journal-file.ts'

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

interface Waiting {
  readonly upTo: number
  readonly done: () => void
}

interface Put {
  readonly base: JournalBase
  readonly stamp: string
  isWritten: boolean
}

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
  /** Counts what was noted; what of it was written; what of that lasts. */
  #noted = 0
  #written = 0
  #lasting = 0
  #file: FileHandle | undefined
  #ino = 0
  #changes = 0
  /** The disk failed, and what the file has is not known. */
  #isLost = false
  #lastSync = -Infinity
  /** Those who wait until so much of what was noted lasts, or is written. */
  #waiting: Waiting[] = []
  #waitingToWrite: Waiting[] = []
  #puts: Put[] = []
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
    this.#ask(work)
  }

  /** Everything is saved, or wanted no more. */
  clear(): void {
    if (this.#want !== undefined || this.#isLost) this.#ask(undefined)
  }

  /**
   * We are about to put what has that stamp into the work's file: if we end in the middle of it, it is known as ours. Resolves when a killed process would have
   * said so; a power cut may lose it.
   */
  async put(stamp: string): Promise<void> {
    if (this.#want === undefined || this.#isClosed) return
    this.#puts = this.#puts.filter(({ base }) => base === this.#want?.base)
    this.#puts.push({ base: this.#want.base, stamp, isWritten: false })
    this.#noted += 1
    const isWritten = new Promise<void>((done) => this.#waitingToWrite.push({ upTo: this.#noted, done }))
    void this.#run()
    await isWritten
  }

  /** Resolves when all that was noted until now is on the disk, or the disk does not take it. */
  async flush(): Promise<void> {
    if (this.#lasting === this.#noted && !this.#isLost) return
    const lasts = new Promise<void>((done) => this.#waiting.push({ upTo: this.#noted, done }))
    void this.#run()
    await lasts
  }

  /** The same, and lets go of the file; it stays where something is unsaved. */
  async close(): Promise<void> {
    if (this.#isClosed) return
    await this.flush()
    this.#isClosed = true
    this.#stopTimer()
    await this.#running
    await this.#letGo()
  }

  #ask(work: Work | undefined): void {
    if (this.#isClosed) return
    this.#want = work
    this.#noted += 1
    void this.#run()
  }

  get #isStale(): boolean {
    return this.#written < this.#noted || this.#isLost
  }

  #run(): Promise<void> {
    this.#running ??= this.#work().finally(() => {
      this.#running = undefined
      if (this.#isFailing) this.#giveUp()
      // What came in its last moment.
      const isBehind =
        (this.#isStale && !this.#isFailing) || this.#waiting.length + this.#waitingToWrite.length > 0
      if (isBehind && !this.#isClosed) void this.#run()
    })
    return this.#running
  }

  async #work(): Promise<void> {
    this.#stopTimer()
    try {
      while (this.#isStale || this.#lasting < this.#written) {
        if (this.#isStale) await this.#write(this.#want, this.#have)
        // However fast more comes, what came is made to last in time.
        const wait = this.#lasting < this.#written ? this.#syncIn() : 0
        if (wait <= 0) await this.#sync()
        else if (!this.#isStale) {
          this.#stopTimer = this.#options.timers.after(wait, () => void this.#run())
          return
        }
      }
    } catch (error) {
      await this.#failed(error)
    }
  }

  /** Milliseconds until the disk may be made to write. */
  #syncIn(): number {
    return this.#waiting.length > 0 ? 0 : this.#lastSync + SYNC_MS - this.#options.timers.now()
  }

  async #write(want: Work | undefined, have: Work | undefined): Promise<void> {
    const noted = this.#noted
    const most = Math.max(MOST_CHANGES, 8 * (want?.text.length ?? 0))
    if (want === undefined) await this.#remove()
    else if (have?.base !== want.base || this.#changes > most || !(await this.#isThere()))
      await this.#rewrite(want)
    else {
      const puts = this.#puts.filter(({ base, isWritten }) => base === want.base && !isWritten)
      const change = want === have ? [] : [changeBytes(have, want, new Date().toISOString())]
      const bytes = Buffer.concat([...change, ...puts.map(({ stamp }) => putBytes(stamp))])
      await this.#file?.appendFile(bytes)
      for (const put of puts) put.isWritten = true
      this.#changes += bytes.length
    }
    this.#have = want
    this.#isLost = false
    this.#written = noted
    this.#waitingToWrite = answered(this.#waitingToWrite, noted)
    // Written whole or removed, it lasts already.
    if (this.#changes === 0) this.#lasts()
  }

  /** False where somebody took the file away, as one who thought that we had ended: what we add to it nobody would find. */
  async #isThere(): Promise<boolean> {
    if (!this.#file) return false
    try {
      return (await stat(this.path)).ino === this.#ino
    } catch {
      return false
    }
  }

  async #rewrite(want: Work): Promise<void> {
    await this.#letGo()
    await mkdir(dirname(this.path), { recursive: true })
    const puts = this.#puts.filter(({ base }) => base === want.base)
    const stamps = [...want.base.stamps, ...puts.map(({ stamp }) => stamp)]
    const whole = { ...want, base: { ...want.base, stamps } }
    await writeWhole(this.path, journalBytes(whole, new Date().toISOString()), 0o600)
    for (const put of puts) put.isWritten = true
    this.#file = await open(this.path, 'a')
    this.#ino = (await this.#file.stat()).ino
    this.#changes = 0
  }

  async #remove(): Promise<void> {
    await this.#letGo()
    this.#changes = 0
    await rm(this.path, { force: true })
    await syncFolder(dirname(this.path))
  }

  async #sync(): Promise<void> {
    if (this.#lasting === this.#written) return
    await this.#file?.datasync()
    this.#lasts()
  }

  #lasts(): void {
    const { timers, kept, trouble } = this.#options
    this.#lasting = this.#written
    this.#lastSync = timers.now()
    if (this.#isFailing) trouble(null)
    this.#isFailing = false
    if (this.#have) kept(this.#have.revision)
    this.#waiting = answered(this.#waiting, this.#lasting)
  }

  /** What the file has now is not known: it is written anew when the disk takes it. */
  async #failed(error: unknown): Promise<void> {
    const { timers, trouble } = this.#options
    await this.#letGo()
    this.#have = undefined
    this.#isLost = true
    this.#lasting = this.#written
    if (!this.#isFailing) trouble(fileTrouble(error))
    this.#isFailing = true
    if (!this.#isClosed) this.#stopTimer = timers.after(AGAIN_MS, () => void this.#run())
  }

  /** Nobody waits for a disk that fails. */
  #giveUp(): void {
    this.#waiting = answered(this.#waiting, Infinity)
    this.#waitingToWrite = answered(this.#waitingToWrite, Infinity)
  }

  async #letGo(): Promise<void> {
    const file = this.#file
    this.#file = undefined
    await file?.close().catch(() => {})
  }
}

/** Those who wait for more. */
function answered(waiting: readonly Waiting[], upTo: number): Waiting[] {
  for (const one of waiting) if (one.upTo <= upTo) one.done()
  return waiting.filter((one) => one.upTo > upTo)
}
