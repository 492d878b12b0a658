import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, rmSync } from 'node:fs'
import { until } from './until.ts'

/** The cable to a lamp box's pty: the program's end is a path that is there while it is plugged in. */
export class LampBoxCable {
  readonly host: string
  readonly #box: string
  #socat: ChildProcess | undefined

  constructor(host: string, box: string) {
    this.host = host
    this.#box = box
  }

  /** Throws where socat is not installed (Debian: `apt-get install socat`). */
  async plug(): Promise<void> {
    let failure: Error | undefined
    const ends = [`pty,raw,echo=0,link=${this.host}`, `${this.#box},raw,echo=0`]
    const socat = spawn('socat', ends, { stdio: 'ignore' })
    socat.on('error', (error) => {
      failure = new Error(`socat does not start (Debian: apt-get install socat): ${error.message}`)
    })
    this.#socat = socat
    await until('socat has made the cable', () => {
      if (failure) throw failure
      return existsSync(this.host)
    })
  }

  async pull(): Promise<void> {
    const socat = this.#socat
    this.#socat = undefined
    if (!socat || socat.exitCode !== null || socat.signalCode !== null) return
    const gone = new Promise((done) => socat.once('exit', done))
    socat.kill('SIGKILL')
    await gone
    // Killed, it leaves its link behind.
    rmSync(this.host, { force: true })
  }
}
