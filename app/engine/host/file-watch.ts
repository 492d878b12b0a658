import type { FSWatcher } from 'node:fs'
import { watch } from 'node:fs'
import { stat } from 'node:fs/promises'
import { basename, dirname } from 'node:path'
import type { SupervisorTimers } from '../supervisor.ts'

/** Not every disk tells of changes, as those of a network: so often it is looked. */
const LOOK_MS = 2_000

/** Notices that a file may have become another. */
export class FileWatch {
  readonly #path: string
  readonly #timers: Pick<SupervisorTimers, 'after'>
  readonly #changed: () => void
  #watcher: FSWatcher | undefined
  /** Of the last look: what tells one state of a file from another without reading it. */
  #sign: string | undefined
  #isClosed = false
  #stopTimer = (): void => {}

  /** `changed` is called when the file is to be looked at, also without need. */
  constructor(path: string, timers: Pick<SupervisorTimers, 'after'>, changed: () => void) {
    this.#path = path
    this.#timers = timers
    this.#changed = changed
    this.#listen()
    this.#lookLater()
  }

  close(): void {
    this.#isClosed = true
    this.#stopTimer()
    this.#watcher?.close()
  }

  /** The folder, since a file that is replaced takes its own watcher with it. */
  #listen(): void {
    const name = basename(this.#path)
    try {
      const watcher = watch(dirname(this.#path), { persistent: false }, (_, what) => {
        if (what === null || what === name) this.#changed()
      })
      watcher.on('error', () => watcher.close())
      this.#watcher = watcher
    } catch {
      // The looks are enough.
    }
  }

  #lookLater(): void {
    this.#stopTimer = this.#timers.after(LOOK_MS, () => {
      void this.#look()
      this.#lookLater()
    })
  }

  async #look(): Promise<void> {
    const sign = await signOf(this.#path)
    if (this.#isClosed || sign === this.#sign) return
    this.#sign = sign
    this.#changed()
  }
}

async function signOf(path: string): Promise<string> {
  try {
    const { mtimeMs, ctimeMs, size, ino } = await stat(path)
    return `${mtimeMs} ${ctimeMs} ${size} ${ino}`
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}
