import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { ask } from './ask-event.ts'
import type { HouseView } from './house-view.ts'

/** Has the monitor told while its element is on a page that is seen, and no longer: it costs the engine something. */
export class WatchController implements ReactiveController {
  readonly #element: ReactiveControllerHost & Node & EventTarget
  #view: HouseView | undefined
  #ways: readonly Node[] = []
  /** The welcome of the host that was asked to tell; a host that comes back has forgotten it. */
  #askedOf: HouseView['welcome']
  readonly #seen = (): void => this.#settle()

  constructor(element: ReactiveControllerHost & Node & EventTarget) {
    this.#element = element
    element.addController(this)
  }

  hostConnected(): void {
    this.#ways = ancestors(this.#element)
    document.addEventListener('visibilitychange', this.#seen)
  }

  hostDisconnected(): void {
    document.removeEventListener('visibilitychange', this.#seen)
    this.#stop()
  }

  /** To be told each view. */
  see(view: HouseView): void {
    this.#view = view
    this.#settle()
  }

  #settle(): void {
    const { welcome, link } = this.#view ?? {}
    if (link !== 'open') this.#askedOf = undefined
    else if (document.hidden) this.#stop()
    else if (welcome && welcome !== this.#askedOf) {
      this.#askedOf = welcome
      ask(this.#element, { type: 'watch', monitor: true })
    }
  }

  #stop(): void {
    if (this.#askedOf === undefined) return
    this.#askedOf = undefined
    // An element that is taken out is heard by nobody; what it stood in still is.
    const heard = this.#element.isConnected
      ? this.#element
      : this.#ways.find(({ isConnected }) => isConnected)
    if (heard) ask(heard, { type: 'watch', monitor: false })
  }
}

/** Outwards, through shadows. */
function ancestors(node: Node): Node[] {
  const parent = node.parentNode ?? (node instanceof ShadowRoot ? node.host : null)
  return parent === null ? [] : [parent, ...ancestors(parent)]
}
