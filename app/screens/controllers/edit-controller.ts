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
  /** The one before it, where a new show came that may have been somebody else's doing: its refusal may be on its way. */
  #unsure: Sent | undefined
  #fault: { readonly where: string; readonly message: string } | undefined

  constructor(element: ReactiveControllerHost & EventTarget) {
    this.#element = element
    element.addController(this)
  }

  hostDisconnected(): void {
    this.#waiting = []
    this.#sent = undefined
    this.#unsure = undefined
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
    if (view.show?.isLocked === true) this.#waiting = []
    if (view.link !== 'open') {
      this.#waiting = []
      this.#sent = undefined
      this.#unsure = undefined
    }
    if (!before) return
    if (view.editRefused && view.editRefused !== before.editRefused) this.#refused(view.editRefused)
    else if (view.show && view.show !== before.show) this.#taken(view.show)
  }

  /** While the gig lock is on nothing is sent. */
  edit(where: string, make: MakeEdit): void {
    if (this.#view?.show?.isLocked === true) return
    this.#waiting.push({ where, make, tries: 0 })
    this.#next()
  }

  /** Something else is shown now: what was wrong before bears on nothing there. */
  forget(): void {
    this.#fault = undefined
  }

  #refused({ label, faults }: NonNullable<HouseView['editRefused']>): void {
    const base = this.#view?.show?.revision
    const [sent, unsure] = [this.#sent, this.#unsure]
    if (unsure?.label === label) {
      this.#unsure = undefined
      return this.#again(unsure)
    }
    // Every screen hears its own refusals only, but an edit may also come from another element of this screen.
    if (sent?.label !== label) return
    this.#sent = undefined
    if (sent.base !== base && sent.tries < MOST_TRIES) return this.#again(sent)
    this.#fault = { where: sent.where, message: faults.map((one) => one.message).join('; ') }
    this.#waiting = []
  }

  #again(edit: Sent): void {
    this.#waiting.unshift(edit)
    this.#next()
  }

  #taken({ revision, undo }: NonNullable<HouseView['show']>): void {
    const sent = this.#sent
    this.#unsure = sent && undo !== sent.label && revision !== sent.base ? sent : undefined
    this.#sent = undefined
    this.#fault = undefined
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
      ask(this.#element, { type: 'edit', base: show.revision, label, changes: [...edit.changes] })
      return
    }
  }
}
