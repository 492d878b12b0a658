import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { fromHost } from '../../../src/contract/from-host.ts'
import { readMessage } from '../../../src/contract/read-message.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { Ask } from './ask-event.ts'
import type { HostLink } from './host-link.ts'
import { openLink } from './host-link.ts'
import type { HouseView } from './house-view.ts'
import { NOTHING_YET, told } from './house-view.ts'

const KEY = 'lanthorn-key'
const AGAIN_MS = 1_000

/** Joins the host to an element: keeps a view of the house, and asks for an update once a frame at most, however much is said. */
export class HouseController implements ReactiveController {
  readonly #element: ReactiveControllerHost
  #link: HostLink | undefined
  #view: HouseView = NOTHING_YET
  #frame = 0

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

  ask(what: Ask): void {
    this.#link?.send({ v: CONTRACT_VERSION, ...what })
  }

  /** With the code that the host shows. */
  enter(code: string): void {
    if (this.#view.link === 'asking') this.#connect(code)
  }

  #connect(code?: string): void {
    const link = openLink()
    this.#link = link
    link.opened(() => {
      const key = keyOfPage()
      const pass = code !== undefined ? { code } : key !== undefined ? { key } : {}
      this.ask({ type: 'enter', ...pass })
    })
    link.receive((raw) => this.#hear(raw))
    link.closed(() => {
      if (this.#link !== link || this.#view.link === 'asking') return
      this.#see({ ...this.#view, link: 'lost' })
      setTimeout(() => this.#connect(), AGAIN_MS)
    })
  }

  #hear(raw: unknown): void {
    const read = readMessage(fromHost, raw)
    if (!read.ok) return
    const { message } = read
    if (message.type === 'welcome') sessionStorage.setItem(KEY, message.key)
    if (message.type === 'no-entry') sessionStorage.removeItem(KEY)
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

/** From an earlier welcome in this tab, else from the address the host gave, where it stands after the hash as `key=`; it is taken out of sight. */
function keyOfPage(): string | undefined {
  const found = /(?:^#|&)key=([\w-]+)/.exec(location.hash)
  if (found) {
    sessionStorage.setItem(KEY, found[1] ?? '')
    history.replaceState(null, '', location.pathname + location.search)
  }
  return sessionStorage.getItem(KEY) ?? undefined
}
