/** What can lie open beside a room. */
export type Pane = 'file' | 'screens' | 'words' | 'cautions' | 'unsaved' | 'recoveries'

/** An element wants a pane open, or the open one closed. */
export class PaneEvent extends Event {
  static readonly type = 'lan-pane'
  readonly pane: Pane | undefined

  constructor(pane: Pane | undefined) {
    super(PaneEvent.type, { bubbles: true, composed: true })
    this.pane = pane
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-pane': PaneEvent
  }
}

export function openPane(element: EventTarget, pane: Pane): void {
  element.dispatchEvent(new PaneEvent(pane))
}

export function closePane(element: EventTarget): void {
  element.dispatchEvent(new PaneEvent(undefined))
}
