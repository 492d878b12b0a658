import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { ask } from './ask-event.ts'
import type { HouseView } from './house-view.ts'

interface Waiting {
  readonly where: string
  readonly make: MakeEdit
  /** How often it was tried. */
  readonly tries: number
}

interface Sent extends Waiting {
  readonly label: string
  readonly base: number
}

const MOST_TRIES = 3
/** As the contract has it. */
const MOST_LABEL = 200

/**
 * Sends edits one after the other, each worked out on the show that the one before it made, and keeps what became of them: an edit that is made while
 * another is on its way would name an old revision, and so would one that another screen came before: that one is worked out again. `where` says which field an edit is from, so that its fault can stand beside it.
 */
export class EditController implements ReactiveController {
  readonly #element: ReactiveControllerHost & EventTarget
  #view: HouseView | undefined
  #waiting: Waiting[] = []
  #sent: Sent | undefined
  /** The latest that was sent, answered or not: a refusal may come after somebody else's change. */
  #latest: Sent | undefined
  #fault: { readonly where: string; readonly message: string } | undefined
  #answers = 0

  constructor(element: ReactiveControllerHost & EventTarget) {
    this.#element = element
    element.addController(this)
  }

  hostDisconnected(): void {
    this.#waiting = []
    this.#sent = undefined
  }

  /** Counts the answers of the host; fields go back to the show's value at each. */
  get answers(): number {
    return this.#answers
  }

  /** What was wrong with the last edit of that field, until another edit is taken. */
  faultAt(where: string): string | undefined {
    return this.#fault?.where === where ? this.#fault.message : undefined
  }

  get fault(): { readonly where: string; readonly message: string } | undefined {
    return this.#fault
  }

  /** To be told each view, before it is shown. */
  see(view: HouseView): void {
    const before = this.#view
    this.#view = view
    if (view.link !== 'open') {
      this.#waiting = []
      this.#sent = undefined
    }
    if (!before) return
    if (view.editRefused && view.editRefused !== before.editRefused) this.#refused(view.editRefused)
    else if (view.show !== before.show) this.#taken()
  }

  edit(where: string, make: MakeEdit): void {
    this.#waiting.push({ where, make, tries: 0 })
    this.#next()
  }

  /** A fault that needs no host to be seen. */
  refuse(where: string, message: string): void {
    this.#fault = { where, message }
    this.#answers++
    this.#element.requestUpdate()
  }

  #refused({ label, faults }: NonNullable<HouseView['editRefused']>): void {
    const latest = this.#latest
    // Every screen hears its own refusals only, but an edit may also come from another element of this screen.
    if (!latest || latest.label !== label) return
    this.#sent = undefined
    this.#latest = undefined
    this.#answers++
    if (latest.base !== this.#view?.show?.revision && latest.tries < MOST_TRIES) {
      this.#waiting.unshift(latest)
      this.#next()
      return
    }
    this.#fault = { where: latest.where, message: faults.map((one) => one.message).join('; ') }
    this.#waiting = []
  }

  #taken(): void {
    this.#answers++
    this.#fault = undefined
    this.#sent = undefined
    this.#next()
  }

  #next(): void {
    const show = this.#view?.show
    if (this.#sent || !show) return
    let waiting: Waiting | undefined
    while ((waiting = this.#waiting.shift())) {
      const edit: Edit | undefined = waiting.make(show.show)
      if (!edit) continue
      const label = edit.label.slice(0, MOST_LABEL)
      this.#sent = { ...waiting, label, base: show.revision, tries: waiting.tries + 1 }
      this.#latest = this.#sent
      ask(this.#element, { type: 'edit', base: show.revision, label, changes: [...edit.changes] })
      return
    }
  }
}
