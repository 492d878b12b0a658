import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { until } from './until.ts'

/** Two ptys joined by socat, under names that stay the same when it is killed and started again. */
export class PtyPair {
  readonly folder = mkdtempSync(join(tmpdir(), 'lanthorn-pty-'))
  readonly host = join(this.folder, 'host')
  readonly box = join(this.folder, 'box')
  #socat: ChildProcess | undefined

  /** Throws where socat is not installed (Debian: `apt-get install socat`). */
  async start(): Promise<void> {
    let failure: Error | undefined
    const socat = spawn('socat', [`pty,raw,echo=0,link=${this.host}`, `pty,raw,echo=0,link=${this.box}`], {
      stdio: 'ignore',
    })
    socat.on('error', (error) => {
      failure = new Error(`socat does not start (Debian: apt-get install socat): ${error.message}`)
    })
    this.#socat = socat
    await until('socat has made its ptys', () => {
      if (failure) throw failure
      return existsSync(this.host) && existsSync(this.box)
    })
  }

  /** As when the cable is pulled at both ends. */
  async kill(): Promise<void> {
    const socat = this.#socat
    this.#socat = undefined
    if (!socat || socat.exitCode !== null || socat.signalCode !== null) return
    const gone = new Promise((done) => socat.once('exit', done))
    socat.kill('SIGKILL')
    await gone
    // Killed, it leaves its links behind.
    rmSync(this.host, { force: true })
    rmSync(this.box, { force: true })
  }

  async end(): Promise<void> {
    await this.kill()
    rmSync(this.folder, { recursive: true, force: true })
  }
}
