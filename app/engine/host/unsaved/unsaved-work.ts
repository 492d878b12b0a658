import type { SupervisorTimers } from '../../supervisor.ts'
import { fileTrouble } from '../file-trouble.ts'
import { Backups } from './backups.ts'
import { Journal } from './journal.ts'
import { Recoveries } from './recoveries.ts'
import type { RecoveredWork, Recovery } from './recoveries.ts'
import { WorkFolder } from './work-folder.ts'

export interface UnsavedWorkOptions {
  readonly stateFolder: string
  readonly timers: SupervisorTimers
  /** Work outlives a crash up to this revision. `trouble`: why later work does not; null: nothing is amiss. */
  readonly kept: (revision: number | null, trouble: string | null) => void
  /** The list of recoveries may be another. */
  readonly found: () => void
  /** Something that a person should know of. */
  readonly note: (message: string) => void
}

/** What is done to shows and not saved, on the disk from moment to moment, and what of it was found again. */
export class UnsavedWork {
  readonly #options: UnsavedWorkOptions
  readonly #folder: WorkFolder
  readonly #backups: Backups
  readonly #recoveries: Recoveries
  /** Show files that could not be opened. */
  readonly #broken = new Set<string>()
  #kept: number | null = null
  #begun: Promise<void> | undefined

  constructor(options: UnsavedWorkOptions) {
    this.#options = options
    const { stateFolder, timers, note } = options
    this.#folder = new WorkFolder(stateFolder, timers)
    this.#backups = new Backups(stateFolder)
    this.#recoveries = new Recoveries({ work: this.#folder, backups: this.#backups, note })
  }

  /** This process's name among those that use the folder. */
  get owner(): string {
    return this.#folder.owner
  }

  get found(): readonly Recovery[] {
    return this.#recoveries.list
  }

  isAliveElsewhere(owner: string): boolean {
    return this.#folder.isAliveElsewhere(owner)
  }

  /** Looks for what was not saved; once. Never rejects. */
  begin(): Promise<void> {
    this.#begun ??= this.#begin()
    return this.#begun
  }

  async end(): Promise<void> {
    await this.#folder.end()
  }

  /** For a show that is being opened. */
  journal(): Journal {
    return new Journal({
      path: this.#folder.nextJournal(),
      timers: this.#options.timers,
      kept: (revision) => {
        this.#kept = revision
        this.#options.kept(revision, null)
      },
      trouble: (why) =>
        this.#options.kept(
          this.#kept,
          why === null
            ? null
            : `What is changed now would be lost in a crash: it cannot be written to ${this.#options.stateFolder} (${why}). Everything goes on; save the show where there is room.`,
        ),
    })
  }

  /** `own`: path of the journal that is being written. */
  async look(own: string | undefined): Promise<void> {
    await this.#recoveries.look(own, this.#broken)
    this.#options.found()
  }

  /** That file could not be opened: copies of it are offered. */
  brokeOff(file: string): void {
    this.#broken.add(file)
  }

  open(id: string): Promise<RecoveredWork | undefined> {
    return this.#recoveries.open(id)
  }

  drop(id: string): Promise<string | undefined> {
    return this.#recoveries.drop(id)
  }

  ofJournal(name: string): ReturnType<Recoveries['ofJournal']> {
    return this.#recoveries.ofJournal(name)
  }

  /** What was last good in that file. */
  async lastGood(file: string): Promise<string | undefined> {
    return (await this.#backups.of(file))[0]?.path
  }

  /** Keeps a copy of what is good in a file. Never rejects. */
  async keepCopy(file: string, bytes: Uint8Array): Promise<void> {
    this.#broken.delete(file)
    await this.#tried(file, this.#backups.keep(file, bytes))
  }

  /** Keeps what somebody else put into a file. Rejects where it cannot. */
  async setAside(file: string, bytes: Uint8Array): Promise<void> {
    await this.#backups.setAside(file, bytes)
  }

  async #tried(file: string, work: Promise<void>): Promise<void> {
    try {
      await work
    } catch (error) {
      this.#options.note(`no copy of ${file} could be kept: ${fileTrouble(error)}`)
    }
  }

  async #begin(): Promise<void> {
    try {
      await this.#folder.begin()
      await this.#folder.tidy()
    } catch (error) {
      // Told again, and with what it means, when something is to be kept.
      this.#options.note(`${this.#options.stateFolder} cannot be written to: ${fileTrouble(error)}`)
    }
    await this.look(undefined)
  }
}
