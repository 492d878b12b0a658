import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { ask } from './ask-event.ts'
import type { HouseView } from './house-view.ts'

type Learned = NonNullable<HouseView['learned']>

/** A knob may tremble by itself; a note is somebody's. */
function isNote({ key }: Learned): boolean {
  return key !== undefined
}

/** Finds out where somebody plays: listens everywhere until something comes that is looked for, a note where nothing else is said, holds it up to be taken or played again, and lets the inputs go at the end. */
export class LearnController implements ReactiveController {
  readonly #element: ReactiveControllerHost & Node
  readonly #isWanted: (learned: Learned) => boolean
  /** Where to say that it is over when the element has gone: nothing bubbles out of it any more. */
  #outlet: EventTarget
  #who: string | undefined
  #latest: Learned | undefined
  #heard: Learned | undefined

  constructor(element: ReactiveControllerHost & Node, isWanted: (learned: Learned) => boolean = isNote) {
    this.#isWanted = isWanted
    this.#element = element
    this.#outlet = element
    element.addController(this)
  }

  hostConnected(): void {
    this.#outlet = this.#element.parentNode ?? this.#element
  }

  hostDisconnected(): void {
    this.end()
  }

  /** Whom it is for; undefined: nobody, nothing is listened to. */
  get who(): string | undefined {
    return this.#who
  }

  /** What was played first since `start` or `again`. */
  get heard(): Learned | undefined {
    return this.#heard
  }

  start(who: string): void {
    const isOn = this.#who !== undefined
    this.#who = who
    this.#heard = undefined
    if (!isOn) ask(this.#outlet, { type: 'learn' })
    this.#element.requestUpdate()
  }

  again(): void {
    this.#heard = undefined
    this.#element.requestUpdate()
  }

  end(): void {
    if (this.#who === undefined) return
    this.#who = undefined
    this.#heard = undefined
    ask(this.#outlet, { type: 'learn-end' })
    this.#element.requestUpdate()
  }

  /** To be told each view, before it is shown. */
  see({ learned, link, show }: HouseView): void {
    if (show?.isLocked === true) this.end()
    // A host that was lost has forgotten that somebody listens.
    if (link !== 'open') this.#who = this.#heard = undefined
    const isNew = learned !== this.#latest
    this.#latest = learned
    if (this.#who === undefined || this.#heard || !isNew) return
    if (learned && this.#isWanted(learned)) this.#heard = learned
  }
}
