import type { MakeEdit } from '../sheet/edit.ts'

/** A field of a room has an edit to make; it bubbles to the room, which sends it. */
export class EditEvent extends Event {
  static readonly type = 'lan-edit'
  /** The field that it is from. */
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

export function edit(element: EventTarget, where: string, make: MakeEdit): void {
  element.dispatchEvent(new EditEvent(where, make))
}
