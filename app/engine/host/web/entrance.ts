import type { Duplex } from 'node:stream'
import type { WebSocket } from 'ws'
import type { ToHost } from '../../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../../src/contract/version.ts'
import type { Door } from './door.ts'
import type { Refusals } from './refusals.ts'
import type { ScreenHost } from './screen-host.ts'
import { CLOSE, LONGEST_BEFORE_ENTRY, ScreenSocket } from './screen-socket.ts'

/** Sockets at most; other devices get fewer, so that they cannot keep this machine's screens out. */
const SOCKETS = { loopback: 16, network: 12 }
/** Of these, so many may wait for entry. */
const WAITING = { loopback: 8, network: 6 }
const ENTER_WITHIN_MS = 10_000
const PING_EVERY_MS = 10_000
const DEAD_AFTER_MS = 30_000

export interface EntranceOptions {
  readonly host: ScreenHost
  readonly door: Door
  readonly refusals: Refusals
  /** Somebody came or went, or the code is another. */
  readonly changed: () => void
  /** Milliseconds; never goes back. */
  readonly now?: () => number
}

interface Guest {
  readonly screen: ScreenSocket
  readonly socket: WebSocket
  readonly isLoopback: boolean
  isRemote: boolean
  heardAt: number
}

/** Leads each socket through the door to the host, and sees to it that those who say nothing do not stay. */
export class Entrance {
  readonly #options: EntranceOptions
  readonly #now: () => number
  readonly #guests = new Set<Guest>()
  readonly #pings: NodeJS.Timeout
  #emptied: () => void = () => {}

  constructor(options: EntranceOptions) {
    this.#options = options
    this.#now = options.now ?? (() => performance.now())
    this.#pings = setInterval(() => this.#ping(), PING_EVERY_MS)
  }

  /** Devices that are in, without this machine's own screens. */
  get remoteScreens(): number {
    return [...this.#guests].filter(({ isRemote }) => isRemote).length
  }

  /** Whether there is room for one more. */
  hasRoom(isLoopback: boolean): boolean {
    const side = isLoopback ? 'loopback' : 'network'
    const counted = [...this.#guests].filter((guest) => isLoopback || !guest.isLoopback)
    const waiting = counted.filter(({ screen }) => !screen.isIn)
    return counted.length < SOCKETS[side] && waiting.length < WAITING[side]
  }

  /** Takes a socket that has just been opened over `stream`. */
  take(socket: WebSocket, stream: Duplex, isLoopback: boolean): void {
    const { refusals, changed } = this.#options
    const screen = new ScreenSocket({ socket, refused: (why) => refusals.count(why), now: this.#now })
    const guest: Guest = { screen, socket, isLoopback, isRemote: false, heardAt: this.#now() }
    this.#guests.add(guest)
    const heard = (): void => void (guest.heardAt = this.#now())
    for (const what of ['message', 'ping', 'pong'] as const) socket.on(what, heard)
    const late = setTimeout(() => screen.turnAway('nothing said'), ENTER_WITHIN_MS)
    screen.atDoor((message) => {
      clearTimeout(late)
      this.#enter(guest, message)
    })
    screen.closed(() => {
      clearTimeout(late)
      this.#guests.delete(guest)
      if (this.#guests.size === 0) this.#emptied()
      changed()
    })
    limitBeforeEntry(stream, screen)
  }

  /** Closes every socket. */
  close(): void {
    clearInterval(this.#pings)
    for (const { screen } of this.#guests) screen.close(CLOSE.goingAway, 'the host ends')
  }

  /** Resolves when nobody is here any more; those who do not answer the closing within `limitMs` are dropped. */
  empty(limitMs: number): Promise<void> {
    if (this.#guests.size === 0) return Promise.resolve()
    return new Promise((resolve) => {
      this.#emptied = resolve
      setTimeout(() => {
        for (const { socket } of this.#guests) socket.terminate()
      }, limitMs).unref()
    })
  }

  #enter(guest: Guest, message: ToHost): void {
    const { door, host, refusals, changed } = this.#options
    const { screen } = guest
    if (message.type !== 'enter') return screen.turnAway('not understood')
    const answer = door.enter(message, guest.isLoopback, this.#now())
    if (!answer.ok) {
      const { message: words, again } = answer
      refusals.count(answer.why)
      screen.send({ v: CONTRACT_VERSION, type: 'no-entry', message: words, again })
      screen.close(CLOSE.breach, answer.why)
      return
    }
    screen.letIn()
    guest.isRemote = answer.entry.place === 'remote'
    host.attach(screen, answer.entry)
    changed()
  }

  #ping(): void {
    const now = this.#now()
    for (const { socket, heardAt } of this.#guests) {
      if (now - heardAt > DEAD_AFTER_MS) socket.terminate()
      else if (socket.readyState === socket.OPEN) socket.ping()
    }
  }
}

/** The limit of `ws` is that of a show; before entry only so many bytes are read in all. */
function limitBeforeEntry(stream: Duplex, screen: ScreenSocket): void {
  let bytes = 0
  const count = (chunk: Buffer): void => {
    bytes += chunk.length
    if (screen.isIn) stream.off('data', count)
    else if (bytes > LONGEST_BEFORE_ENTRY) {
      stream.off('data', count)
      screen.turnAway('too long', CLOSE.tooLong)
    }
  }
  stream.on('data', count)
}
