import type { Json } from '../sheet/json.ts'

/** An option has a new value; undefined: it is left out. */
export class OptionEvent extends Event {
  static readonly type = 'lan-option'
  readonly name: string
  readonly value: Json | undefined

  constructor(name: string, value: Json | undefined) {
    super(OptionEvent.type, { bubbles: true, composed: true })
    this.name = name
    this.value = value
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-option': OptionEvent
  }
}
