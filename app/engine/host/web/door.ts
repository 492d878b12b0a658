import type { Entry } from '../entry.ts'
import type { Secrets } from './secrets.ts'
import { isSameSecret, RANDOM } from './secrets.ts'

export interface Pass {
  readonly key?: string | undefined
  readonly code?: string | undefined
}

export type NoEntryWhy = 'no key' | 'wrong key' | 'wrong code' | 'codes closed'

export type Answer =
  | { readonly ok: true; readonly entry: Entry }
  /** `again`: milliseconds until another try is heard. */
  | { readonly ok: false; readonly why: NoEntryWhy; readonly message: string; readonly again: number }

/** So many wrong codes in a row close the door to codes. */
const WRONG_CODES = 5
const FIRST_CLOSING_MS = 30_000
const LONGEST_CLOSING_MS = 600_000
/** Devices that may come back by themselves; the one let in longest ago is forgotten for the next. */
const MOST_REMOTE_KEYS = 64

/**
 * Who may come in. This machine's screens have the key of the address that was opened for them. Another device needs the code, which lets one in and is then
 * drawn anew; it gets a key of its own, to come back with. Knows no time but what it is told: milliseconds of a clock that never goes back.
 */
export class Door {
  /** For this machine only. */
  readonly localKey: string
  readonly #secrets: Secrets
  readonly #letsRemote: boolean
  readonly #remoteKeys: string[] = []
  #code: string
  #wrongCodes = 0
  #closedUntil = 0
  #nextClosing = FIRST_CLOSING_MS

  /** `letsRemote`: whether there is a code at all. */
  constructor({ letsRemote, secrets = RANDOM }: { letsRemote: boolean; secrets?: Secrets }) {
    this.#secrets = secrets
    this.#letsRemote = letsRemote
    this.localKey = secrets.drawKey()
    this.#code = secrets.drawCode()
  }

  /** Lets the next device in; empty where none may. */
  get code(): string {
    return this.#letsRemote ? this.#code : ''
  }

  /** `isLoopback`: the connection comes from this machine, over no network. A key counts before a code. */
  enter({ key, code }: Pass, isLoopback: boolean, now: number): Answer {
    if (key !== undefined) return this.#byKey(key, isLoopback, now)
    if (code !== undefined && this.#letsRemote) return this.#byCode(code, now)
    const message = this.#letsRemote
      ? 'This screen needs the code that the host shows.'
      : 'This screen needs the address that the host printed when it started, with its key.'
    return { ok: false, why: 'no key', message, again: this.#again(now) }
  }

  #byKey(key: string, isLoopback: boolean, now: number): Answer {
    // Every key is compared, so that the time taken does not tell which one was nearly right.
    const isLocal = isSameSecret(key, this.localKey)
    const isRemote = this.#remoteKeys.filter((known) => isSameSecret(key, known)).length > 0
    if (isLocal && isLoopback) return { ok: true, entry: { place: 'browser', key } }
    if (isRemote) return { ok: true, entry: { place: 'remote', key } }
    const message = this.#letsRemote
      ? 'The host does not know this screen; enter the code that it shows.'
      : 'The host does not know this key; it has a new one each time it starts. Open the address that it printed.'
    return { ok: false, why: 'wrong key', message, again: this.#again(now) }
  }

  #byCode(code: string, now: number): Answer {
    const wait = this.#again(now)
    if (wait > 0) {
      const message = `Too many wrong codes; try again in ${seconds(wait)}, with the code that the host shows then.`
      return { ok: false, why: 'codes closed', message, again: wait }
    }
    const isRight = isSameSecret(code, this.#code)
    if (isRight) return this.#letIn()
    this.#wrongCodes += 1
    if (this.#wrongCodes < WRONG_CODES) {
      return {
        ok: false,
        why: 'wrong code',
        message: 'That is not the code that the host shows.',
        again: 0,
      }
    }
    const closing = this.#nextClosing
    this.#wrongCodes = 0
    this.#closedUntil = now + closing
    this.#nextClosing = Math.min(LONGEST_CLOSING_MS, closing * 2)
    this.#code = this.#secrets.drawCode()
    const message = `That is not the code that the host shows. It has a new one; try again in ${seconds(closing)}.`
    return { ok: false, why: 'wrong code', message, again: closing }
  }

  #letIn(): Answer {
    const key = this.#secrets.drawKey()
    this.#remoteKeys.push(key)
    if (this.#remoteKeys.length > MOST_REMOTE_KEYS) this.#remoteKeys.shift()
    this.#code = this.#secrets.drawCode()
    this.#wrongCodes = 0
    this.#nextClosing = FIRST_CLOSING_MS
    return { ok: true, entry: { place: 'remote', key } }
  }

  #again(now: number): number {
    return Math.max(0, Math.ceil(this.#closedUntil - now))
  }
}

function seconds(ms: number): string {
  return `${Math.ceil(ms / 1000)} s`
}
