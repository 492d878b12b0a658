import type { FromHost } from '../../../src/contract/from-host.ts'
import type { Screen } from './screen.ts'

/** Everybody who is in. */
export class Screens {
  readonly #all = new Set<Screen>()
  #skippedBefore = 0

  add(screen: Screen): void {
    this.#all.add(screen)
  }

  remove(screen: Screen): void {
    if (!this.#all.delete(screen)) return
    this.#skippedBefore += screen.skipped
    screen.close()
  }

  /** The same to each who is in, or what `word` makes for each; those that it is undefined for are left out. */
  tell(word: (screen: Screen) => FromHost | undefined): void {
    for (const screen of this.#all) {
      const message = screen.isIn ? word(screen) : undefined
      if (message) screen.tell(message)
    }
  }

  get wantMonitor(): boolean {
    return [...this.#all].some(({ wantsMonitor }) => wantsMonitor)
  }

  get areLearning(): boolean {
    return [...this.#all].some(({ isLearning }) => isLearning)
  }

  /** Nobody does any more. */
  learnNoMore(): void {
    for (const screen of this.#all) screen.isLearning = false
  }

  /** Messages that slow screens were not sent, since newer ones took their place. */
  get skipped(): number {
    return [...this.#all].reduce((sum, { skipped }) => sum + skipped, this.#skippedBefore)
  }
}
