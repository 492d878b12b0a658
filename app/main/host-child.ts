import type { MessagePortMain } from 'electron'
import type { FromHost } from '../../src/contract/from-host.ts'
import { fromHost } from '../../src/contract/from-host.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { ElectronApi, UsedChild } from './electron-api.ts'

export interface HostChildOptions {
  readonly electron: Pick<ElectronApi, 'utilityProcess'>
  /** The built host. */
  readonly path: string
  /** Where it keeps its settings. */
  readonly state: string
  readonly heard: (message: FromHost) => void
  /** It runs (again): windows need a new port, and it does not know which show was open. */
  readonly started: (again: boolean) => void
  readonly after?: (ms: number, call: () => void) => void
}

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never

const LONGEST_PAUSE_MS = 10_000
/** A host that lived so long did not die of how it was started. */
const SETTLED_MS = 30_000

/** The host in a utility process: started, spoken to, and started again when it dies by itself. */
export class HostChild {
  readonly #options: HostChildOptions
  readonly #after: (ms: number, call: () => void) => void
  #child: UsedChild | undefined
  #deaths = 0
  #bornAt = 0
  #isEnding = false
  #ended: (() => void) | undefined

  constructor(options: HostChildOptions) {
    this.#options = options
    this.#after = options.after ?? ((ms, call) => void setTimeout(call, ms))
  }

  start(): void {
    const { electron, path, state } = this.#options
    const env = { ...process.env, LANTHORN_STATE: state }
    const child = electron.utilityProcess.fork(path, [], {
      serviceName: 'Lanthorn host',
      stdio: 'inherit',
      env,
    })
    this.#child = child
    this.#bornAt = performance.now()
    child.on('message', (raw: unknown) => {
      const read = readMessage(fromHost, raw)
      if (read.ok) this.#options.heard(read.message)
    })
    child.on('exit', () => this.#over(child))
    this.send({ type: 'enter' })
    this.#options.started(this.#deaths > 0)
  }

  send(message: WithoutVersion<ToHost>): void {
    this.#child?.postMessage({ v: CONTRACT_VERSION, ...message })
  }

  /** Makes a window's end of a channel a screen of the host. */
  attach(port: MessagePortMain): void {
    this.#child?.postMessage({ v: CONTRACT_VERSION, type: 'attach' }, [port])
  }

  /** Lamps dark, then its end; resolves in any case, killing it after `limitMs`. */
  quit(limitMs: number): Promise<void> {
    this.#isEnding = true
    const child = this.#child
    if (!child) return Promise.resolve()
    return new Promise((resolve) => {
      this.#ended = resolve
      this.#after(limitMs, () => {
        child.kill()
        resolve()
      })
      this.send({ type: 'quit' })
    })
  }

  #over(child: UsedChild): void {
    if (child !== this.#child) return
    this.#child = undefined
    if (this.#isEnding) {
      this.#ended?.()
      return
    }
    if (performance.now() - this.#bornAt > SETTLED_MS) this.#deaths = 0
    const pause = this.#deaths === 0 ? 0 : Math.min(LONGEST_PAUSE_MS, 250 * 2 ** this.#deaths)
    this.#deaths += 1
    this.#after(pause, () => {
      if (!this.#isEnding) this.start()
    })
  }
}
