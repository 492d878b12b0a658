import type { ElectronApi } from './electron-api.ts'

/** Keeps screen and machine awake while a show runs, and no longer. */
export class KeepAwake {
  readonly #blocker: ElectronApi['powerSaveBlocker']
  #id: number | undefined

  constructor({ powerSaveBlocker }: Pick<ElectronApi, 'powerSaveBlocker'>) {
    this.#blocker = powerSaveBlocker
  }

  set(isRunning: boolean): void {
    if (isRunning && this.#id === undefined) this.#id = this.#blocker.start('prevent-display-sleep')
    if (!isRunning && this.#id !== undefined) {
      this.#blocker.stop(this.#id)
      this.#id = undefined
    }
  }
}
