/** A step of a pattern was chosen: the row by its id, the step counted from 0. */
export class StepChoiceEvent extends Event {
  static readonly type = 'lan-step'
  readonly row: string
  readonly index: number

  constructor(row: string, index: number) {
    super(StepChoiceEvent.type, { bubbles: true, composed: true })
    this.row = row
    this.index = index
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-step': StepChoiceEvent
  }
}
