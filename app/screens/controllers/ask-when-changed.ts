import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** Changes within this time are asked about once, after the last. */
const SETTLES_MS = 250

/** Asks for something at once when its element is first shown, and again whenever what the answer hangs on has changed. */
export class AskWhenChanged implements ReactiveController {
  readonly #send: () => void
  #hangsOn: readonly unknown[] | undefined
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(element: ReactiveControllerHost, send: () => void) {
    this.#send = send
    element.addController(this)
  }

  hostDisconnected(): void {
    clearTimeout(this.#timer)
    this.#timer = undefined
    this.#hangsOn = undefined
  }

  /** To be told at each update. `hangsOn`: compared one by one, by identity; undefined: there is nothing to ask yet. `soon`: not worth waiting. */
  see(hangsOn: readonly unknown[] | undefined, soon = false): void {
    if (hangsOn === undefined) return
    const before = this.#hangsOn
    if (before?.length === hangsOn.length && hangsOn.every((one, index) => Object.is(one, before[index])))
      return
    this.#hangsOn = hangsOn
    clearTimeout(this.#timer)
    this.#timer = undefined
    if (soon || before === undefined) this.#send()
    else this.#timer = setTimeout(this.#send, SETTLES_MS)
  }
}
