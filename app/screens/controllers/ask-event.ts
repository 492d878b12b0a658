import type { ToHost } from '../../../src/contract/to-host.ts'

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never
/** What a screen asks of the host; the version is put on where it leaves. */
export type Ask = WithoutVersion<ToHost>

/** An element asks the host for something. It bubbles out of every shadow to the app element, which hands it on. */
export class AskEvent extends Event {
  static readonly type = 'lan-ask'
  readonly ask: Ask

  constructor(ask: Ask) {
    super(AskEvent.type, { bubbles: true, composed: true })
    this.ask = ask
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-ask': AskEvent
  }
}

/** `ask(this, { type: 'dark-all' })` */
export function ask(element: EventTarget, what: Ask): void {
  element.dispatchEvent(new AskEvent(what))
}
