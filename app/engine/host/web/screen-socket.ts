import type { RawData, WebSocket } from 'ws'
import type { FromHost } from '../../../../src/contract/from-host.ts'
import { readMessage } from '../../../../src/contract/read-message.ts'
import type { ToHost } from '../../../../src/contract/to-host.ts'
import { toHost } from '../../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../../src/contract/version.ts'
import type { Channel } from '../../channel.ts'
import type { RefusalWhy } from './refusals.ts'

/** What closing says to the other end (RFC 6455, 7.4.1). */
export const CLOSE = { notText: 1003, breach: 1008, tooLong: 1009, goingAway: 1001 } as const

/** Bytes that may wait for a screen; one that reads none of them is dropped. */
const LONGEST_BACKLOG = 32_000_000

/** So many messages that are not understood, within that time, end it. */
const NOT_UNDERSTOOD = { most: 20, withinMs: 10_000 }
/** Nobody turns knobs so fast. */
const MESSAGES = { most: 200, withinMs: 1_000 }

/** Of what was not understood; it may quote what was sent. */
const MOST_WORDS = 500

/** Bytes that are read before entry. */
export const LONGEST_BEFORE_ENTRY = 4_096

export interface ScreenSocketOptions {
  readonly socket: WebSocket
  readonly refused: (why: RefusalWhy) => void
  readonly now: () => number
}

/** One socket: first somebody at the door, then a screen. Gives on what it understands, and ends what keeps saying something else. */
export class ScreenSocket implements Channel {
  readonly #socket: WebSocket
  readonly #refused: (why: RefusalWhy) => void
  readonly #now: () => number
  readonly #messages = new Lately(MESSAGES)
  readonly #notUnderstood = new Lately(NOT_UNDERSTOOD)
  #isIn = false
  #isTurnedAway = false
  #receive: (message: unknown) => void = () => {}
  #enter: (message: ToHost) => void = () => {}
  #closed: () => void = () => {}

  constructor({ socket, refused, now }: ScreenSocketOptions) {
    this.#socket = socket
    this.#refused = refused
    this.#now = now
    socket.on('message', (data, isBinary) => this.#hear(data, isBinary))
    // Each is answered, and an answer that is not read waits.
    socket.on('ping', () => this.#isTooFast())
    socket.on('close', () => this.#closed())
    // A breach of the protocol itself; the socket closes by itself after it.
    socket.on('error', (error) => this.#refuseOnce(isTooLong(error) ? 'too long' : 'not understood'))
  }

  get backlog(): number {
    return this.#socket.bufferedAmount
  }

  /** Whether it has been let in. */
  get isIn(): boolean {
    return this.#isIn
  }

  /** Called for the first message. */
  atDoor(call: (message: ToHost) => void): void {
    this.#enter = call
  }

  letIn(): void {
    this.#isIn = true
  }

  send(message: unknown): void {
    if (this.#socket.readyState !== this.#socket.OPEN) return
    this.#socket.send(JSON.stringify(message))
    if (this.backlog > LONGEST_BACKLOG) this.#socket.terminate()
  }

  receive(call: (message: unknown) => void): void {
    this.#receive = call
  }

  closed(call: () => void): void {
    const before = this.#closed
    this.#closed = () => {
      before()
      call()
    }
  }

  /** Counts why, and closes; it is counted once, whatever else was wrong. */
  turnAway(why: RefusalWhy, code: number = CLOSE.breach): void {
    this.#refuseOnce(why)
    this.close(code, why)
  }

  #refuseOnce(why: RefusalWhy): void {
    if (!this.#isTurnedAway) this.#refused(why)
    this.#isTurnedAway = true
  }

  close(code: number, why: string): void {
    this.#socket.close(code, why)
  }

  #isTooFast(): boolean {
    if (this.#socket.readyState !== this.#socket.OPEN) return true
    const isTooFast = this.#messages.isTooMany(this.#now())
    if (isTooFast) this.turnAway('too many messages')
    return isTooFast
  }

  #hear(data: RawData, isBinary: boolean): void {
    if (this.#isTooFast()) return
    if (isBinary) return this.turnAway('not text', CLOSE.notText)
    const text = data.toString()
    if (!this.#isIn && text.length > LONGEST_BEFORE_ENTRY) return this.turnAway('too long', CLOSE.tooLong)
    const read = readText(text)
    if (!read.ok) return this.#didNotUnderstand(read.why)
    if (!this.#isIn) return this.#enter(read.message)
    if (read.message.type === 'enter') return this.#didNotUnderstand('enter: this screen is in already')
    this.#receive(read.message)
  }

  #didNotUnderstand(why: string): void {
    if (!this.#isIn) return this.turnAway('not understood')
    this.#refused('not understood')
    const answer: FromHost = {
      v: CONTRACT_VERSION,
      type: 'not-understood',
      message: why.slice(0, MOST_WORDS),
    }
    this.send(answer)
    if (this.#notUnderstood.isTooMany(this.#now())) this.close(CLOSE.breach, 'not understood, too often')
  }
}

function readText(text: string): ReturnType<typeof readMessage<ToHost>> {
  try {
    return readMessage(toHost, JSON.parse(text))
  } catch {
    return { ok: false, why: 'the message is not JSON' }
  }
}

/** `ws` calls it WS_ERR_UNSUPPORTED_MESSAGE_LENGTH, or ..._DATA_PAYLOAD_LENGTH from 2^53 on. */
function isTooLong(error: Error): boolean {
  return 'code' in error && /_UNSUPPORTED_.*_LENGTH$/.test(String(error.code))
}

/** Counts events of the last while. */
class Lately {
  readonly #most: number
  readonly #withinMs: number
  #times: number[] = []

  constructor({ most, withinMs }: { most: number; withinMs: number }) {
    this.#most = most
    this.#withinMs = withinMs
  }

  /** Counts one more. */
  isTooMany(now: number): boolean {
    this.#times.push(now)
    const first = this.#times.findIndex((at) => now - at < this.#withinMs)
    this.#times.splice(0, first)
    return this.#times.length > this.#most
  }
}
