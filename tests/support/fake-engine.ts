import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import type { EngineProcess, SupervisorTimers } from '../../app/engine/supervisor.ts'

/** An engine that does what the test says. */
export class FakeEngine implements EngineProcess {
  readonly got: ToEngineInput[] = []
  killed = 0
  #message: (raw: unknown) => void = () => {}
  #exit: (how: string) => void = () => {}

  send(message: ToEngineInput): void {
    this.got.push(message)
  }
  onMessage(call: (raw: unknown) => void): void {
    this.#message = call
  }
  onExit(call: (how: string) => void): void {
    this.#exit = call
  }
  kill(): void {
    this.killed++
    this.exit('SIGKILL')
  }
  says(message: unknown): void {
    this.#message(message)
  }
  exit(how = 'code 1'): void {
    this.#exit(how)
  }
}

/** Timers that the test moves on. */
export class FakeTimers implements SupervisorTimers {
  #now = 0
  #calls: { at: number; call: () => void }[] = []

  now(): number {
    return this.#now
  }
  after(ms: number, call: () => void): () => void {
    const one = { at: this.#now + ms, call }
    this.#calls.push(one)
    return () => {
      this.#calls = this.#calls.filter((other) => other !== one)
    }
  }
  /** Time goes by and nothing happens, as while the machine sleeps. */
  skip(ms: number): void {
    this.#now += ms
  }
  move(ms: number): void {
    const until = this.#now + ms
    for (;;) {
      const next = this.#calls.filter(({ at }) => at <= until).sort((a, b) => a.at - b.at)[0]
      if (!next) break
      this.#calls = this.#calls.filter((one) => one !== next)
      this.#now = Math.max(this.#now, next.at)
      next.call()
    }
    this.#now = until
  }
}
