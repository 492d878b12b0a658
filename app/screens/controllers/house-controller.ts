import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { fromHost } from '../../../src/contract/from-host.ts'
import { readMessage } from '../../../src/contract/read-message.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { Ask } from './ask-event.ts'
import type { HostLink } from './host-link.ts'
import { openLink } from './host-link.ts'
import type { HouseView, Word } from './house-view.ts'
import { NOTHING_YET, notRead, said, told } from './house-view.ts'
import { forgetKey, keepKey, keyOfPage } from './page-key.ts'

const AGAIN_MS = 1_000

/** Joins the host to an element: keeps a view of the house, and asks for an update once a frame at most, however much is said. */
export class HouseController implements ReactiveController {
  readonly #element: ReactiveControllerHost
  #link: HostLink | undefined
  #view: HouseView = NOTHING_YET
  #frame = 0
  /** Typed by a person; tried until the host has answered, also over a lost connection. */
  #code: string | undefined
  #again: ReturnType<typeof setTimeout> | undefined

  constructor(element: ReactiveControllerHost) {
    this.#element = element
    element.addController(this)
  }

  get view(): HouseView {
    return this.#view
  }

  hostConnected(): void {
    this.#connect()
  }

  /** False: the host is not reached now, and it is not asked. */
  ask(what: Ask): boolean {
    if (this.#view.link !== 'open') return false
    this.#send(what)
    const { welcome } = this.#view
    if (what.type === 'cautions-read' && welcome)
      this.#see({ ...this.#view, welcome: { ...welcome, areCautionsRead: true } })
    return true
  }

  /** With the code that the host shows. */
  enter(code: string): void {
    if (this.#view.link !== 'asking') return
    this.#code = code
    this.#see({ ...this.#view, link: 'connecting' })
    this.#connect()
  }

  /** Something that this screen itself has to say. */
  say(level: Word['level'], source: string, message: string): void {
    this.#see(said(this.#view, level, source, message))
  }

  #send(what: Ask): void {
    this.#link?.send({ v: CONTRACT_VERSION, ...what })
  }

  #connect(): void {
    clearTimeout(this.#again)
    const link = openLink()
    this.#link = link
    link.opened(() => {
      const key = keyOfPage()
      const code = this.#code
      this.#send({ type: 'enter', ...(code !== undefined ? { code } : key !== undefined ? { key } : {}) })
    })
    link.receive((raw) => {
      if (this.#link === link) this.#hear(raw)
    })
    link.closed(() => {
      if (this.#link !== link || this.#view.link === 'asking') return
      this.#see({ ...this.#view, link: 'lost' })
      this.#again = setTimeout(() => this.#connect(), AGAIN_MS)
    })
  }

  #hear(raw: unknown): void {
    const read = readMessage(fromHost, raw)
    if (!read.ok) return this.#see(notRead(this.#view))
    const { message } = read
    if (message.type === 'welcome') keepKey(message.key)
    // Without a code it was the key that was not known; with one, there was none any more.
    if (message.type === 'no-entry' && this.#code === undefined) forgetKey()
    if (message.type === 'welcome' || message.type === 'no-entry') this.#code = undefined
    this.#see(told(this.#view, message))
  }

  #see(view: HouseView): void {
    this.#view = view
    if (this.#frame !== 0) return
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0
      this.#element.requestUpdate()
    })
  }
}
