import type { SupervisorTimers } from '../supervisor.ts'
import { fileChangeWords } from './file-change.ts'
import { FileWatch } from './file-watch.ts'
import type { ShowDocument } from './show-document.ts'
import { readShowBytes, seeShowFile } from './show-file.ts'

/** A show whose file is to be looked after. */
export interface Followed {
  readonly document: ShowDocument
  /** Of its file as it was last read or written. */
  readonly stamp?: string | undefined
}

export interface DiskLookOptions {
  readonly timers: Pick<SupervisorTimers, 'after'>
  /** In turn with everything else that is done with files. */
  readonly queued: (look: () => Promise<void>) => void
  readonly open: () => Followed | undefined
  /** The file is not what was opened or saved; null: it is again. */
  readonly told: (message: string | null) => void
}

/** Somebody who saves without care is in the middle of it for so long. */
const HALF_WRITTEN_MS = 500

/** Notices that somebody else changed the file of the show that is open, and tells each change once. */
export class DiskLook {
  readonly #options: DiskLookOptions
  #watch: FileWatch | undefined
  #path: string | null = null
  /** Which state of the file was told. */
  #told: string | undefined
  #message: string | null = null
  #isAsked = false
  #stopTimer = (): void => {}

  constructor(options: DiskLookOptions) {
    this.#options = options
  }

  /** What was told last; null: the file is as it should be. */
  get message(): string | null {
    return this.#message
  }

  /** Another show is open, or it has another file, or the file was read or written here. */
  follow(): void {
    const path = this.#options.open()?.document.file ?? null
    if (path !== this.#path) {
      this.#watch?.close()
      this.#watch = path === null ? undefined : new FileWatch(path, this.#options.timers, () => this.look())
      this.#path = path
    }
    this.#tell(undefined, null)
    this.look()
  }

  look(): void {
    if (this.#isAsked || this.#path === null) return
    this.#isAsked = true
    this.#options.queued(async () => {
      this.#isAsked = false
      await this.#look()
    })
  }

  close(): void {
    this.#watch?.close()
    this.#watch = undefined
    this.#path = null
    this.#stopTimer()
  }

  async #look(): Promise<void> {
    const open = this.#options.open()
    const file = open?.document.file ?? null
    if (!open || file === null || file !== this.#path) return
    const seen = await seeShowFile(file)
    const state = seen.state === 'there' ? seen.stamp : seen.state
    if (state === open.stamp) return this.#tell(undefined, null)
    if (state === this.#told) return
    const isHalf =
      seen.state === 'there' && Date.now() - seen.changedMs < HALF_WRITTEN_MS && !readShowBytes(seen.bytes).ok
    if (isHalf) {
      this.#stopTimer()
      this.#stopTimer = this.#options.timers.after(HALF_WRITTEN_MS, () => this.look())
      return
    }
    this.#tell(state, fileChangeWords(file, seen, open.stamp, open.document.show) ?? null)
  }

  #tell(state: string | undefined, message: string | null): void {
    const isNews = message !== this.#message || (message !== null && state !== this.#told)
    this.#told = state
    this.#message = message
    if (isNews) this.#options.told(message)
  }
}
