import type { ReactiveController, ReactiveControllerHost } from 'lit'

type Tell = (isOn: boolean) => void

/** An element wants to know whether the gig lock is on. It bubbles to the page, which tells it at once and at each change, until `leave`. */
class LockWantedEvent extends Event {
  static readonly type = 'lan-lock-wanted'
  readonly tell: Tell
  leave: () => void = () => {}

  constructor(tell: Tell) {
    super(LockWantedEvent.type, { bubbles: true, composed: true })
    this.tell = tell
  }
}

/** The page's side: knows whether the lock is on, and tells every element that edits. */
export class LockKeeper {
  readonly #told = new Set<Tell>()
  #isOn = false

  constructor(page: EventTarget) {
    page.addEventListener(LockWantedEvent.type, (event) => {
      if (!(event instanceof LockWantedEvent)) return
      event.stopPropagation()
      this.#told.add(event.tell)
      event.leave = () => void this.#told.delete(event.tell)
      event.tell(this.#isOn)
    })
  }

  set(isOn: boolean): void {
    if (isOn === this.#isOn) return
    this.#isOn = isOn
    for (const tell of this.#told) tell(isOn)
  }
}

/** The side of an element with fields or buttons that change the show: while the lock is on it has them shut. */
export class LockController implements ReactiveController {
  readonly #element: ReactiveControllerHost & EventTarget
  #isOn = false
  #leave: () => void = () => {}

  constructor(element: ReactiveControllerHost & EventTarget) {
    this.#element = element
    element.addController(this)
  }

  get isOn(): boolean {
    return this.#isOn
  }

  hostConnected(): void {
    const wanted = new LockWantedEvent((isOn) => {
      if (isOn === this.#isOn) return
      this.#isOn = isOn
      this.#element.requestUpdate()
    })
    this.#element.dispatchEvent(wanted)
    this.#leave = wanted.leave
  }

  hostDisconnected(): void {
    this.#leave()
  }
}
