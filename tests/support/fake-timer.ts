import type { Millis, PollTimer } from '../../app/engine/ports/poll-timer.ts'

/** A timer whose time passes only by `pass`. */
export class FakeTimer implements PollTimer {
  #now: Millis = 0
  readonly #waiting = new Set<{ due: Millis; run: () => void }>()

  now(): Millis {
    return this.#now
  }

  after(wait: Millis, run: () => void): () => void {
    const entry = { due: this.#now + wait, run }
    this.#waiting.add(entry)
    return () => this.#waiting.delete(entry)
  }

  get waiting(): number {
    return this.#waiting.size
  }

  pass(time: Millis): void {
    const until = this.#now + time
    for (;;) {
      const [next] = [...this.#waiting].filter((entry) => entry.due <= until).sort((a, b) => a.due - b.due)
      if (next === undefined) break
      this.#waiting.delete(next)
      this.#now = Math.max(this.#now, next.due)
      next.run()
    }
    this.#now = until
  }
}
