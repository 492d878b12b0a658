import type { MakeEdit } from '../sheet/edit.ts'

/** A piece of a room wants the show changed. It bubbles to the room, which sends its edits one after another. */
export class EditEvent extends Event {
  static readonly type = 'lan-edit'
  /** The field it comes from, so that its fault can stand beside it. */
  readonly where: string
  readonly make: MakeEdit

  constructor(where: string, make: MakeEdit) {
    super(EditEvent.type, { bubbles: true, composed: true })
    this.where = where
    this.make = make
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-edit': EditEvent
  }
}

export function propose(element: EventTarget, where: string, make: MakeEdit): void {
  element.dispatchEvent(new EditEvent(where, make))
}
