import type { FromEngine } from '../../src/contract/from-engine.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import type { ToEngine } from '../../src/contract/to-engine.ts'
import { toEngine } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'
import type { Channel } from './channel.ts'
import { listPorts } from './list-ports.ts'
import type { Machine } from './machine.ts'
import { withVirtualRig } from './machine.ts'
import { Session } from './session.ts'
import { firstPlace } from './set-list.ts'

/** The engine: does what comes over a channel, and says over it what goes on. It knows no screen. */
export class Engine {
  readonly #channel: Channel
  readonly #machine: Machine
  readonly #ended: () => void
  #session: Session | undefined

  /** `ended`: it has stopped, or the other end is gone; all that could be darkened is dark. */
  constructor(channel: Channel, machine: Machine, ended: () => void) {
    this.#channel = channel
    this.#machine = machine
    this.#ended = ended
    channel.receive((raw) => this.#receive(raw))
    channel.closed(() => void this.#stop())
    this.#say({ v: CONTRACT_VERSION, type: 'hello', pid: process.pid })
  }

  #say(message: FromEngine): void {
    this.#channel.send(message)
  }

  #receive(raw: unknown): void {
    const read = readMessage(toEngine, raw)
    if (read.ok) void this.#obey(read.message)
    else this.#say({ v: CONTRACT_VERSION, type: 'not-understood', message: read.why })
  }

  async #obey(message: ToEngine): Promise<void> {
    switch (message.type) {
      case 'load':
        return this.#load(message)
      case 'song':
        return this.#changeSong(message.song, message.position)
      case 'go':
        return this.#session?.go(message.to)
      case 'dark-all':
        return this.#session?.darkAll()
      case 'choose-port':
        return this.#session?.choosePort(message.port, message.place)
      case 'listen-again':
        return this.#session?.listenAgain(message.port)
      case 'list-ports':
        return this.#say({ v: CONTRACT_VERSION, type: 'ports', ...(await listPorts(this.#machine)) })
      case 'ping':
        return this.#say({ v: CONTRACT_VERSION, type: 'alive', count: message.count })
      case 'stop':
        return this.#stop()
    }
  }

  async #load({ text, song, position, rig, recover }: Extract<ToEngine, { type: 'load' }>): Promise<void> {
    const parsed = parseShow(text, strategies)
    if (!parsed.ok) {
      this.#say({ v: CONTRACT_VERSION, type: 'load-failed', message: formatFaults(parsed.faults) })
      return
    }
    const { show } = parsed
    const songs = show.songs.map(({ id }) => id)
    const place = firstPlace(show, song, position)
    if (!songs.includes(place.song)) {
      this.#say({
        v: CONTRACT_VERSION,
        type: 'load-failed',
        message: `the show has no song "${place.song}"; it has ${songs.join(', ')}`,
      })
      return
    }
    await this.#session?.stop()
    const machine = rig === 'virtual' ? withVirtualRig(this.#machine, show) : this.#machine
    this.#session = new Session({ show, place, recover, machine, say: (message) => this.#say(message) })
    this.#session.start()
    this.#say({ v: CONTRACT_VERSION, type: 'loaded', title: show.title, ...place, songs })
  }

  #changeSong(song: string, position: number | undefined): void {
    try {
      this.#session?.changeSong(song, position)
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      this.#say({ v: CONTRACT_VERSION, type: 'not-understood', message })
    }
  }

  /** Darkens and ends. */
  stop(): void {
    void this.#stop()
  }

  async #stop(): Promise<void> {
    const clean = (await this.#session?.stop()) ?? true
    this.#session = undefined
    this.#say({ v: CONTRACT_VERSION, type: 'stopped', clean })
    this.#ended()
  }
}
