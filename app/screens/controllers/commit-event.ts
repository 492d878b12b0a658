/** A field has a new value: typed and left, entered, or chosen. What was typed and is still being typed is not told. */
export class CommitEvent<T> extends Event {
  static readonly type = 'lan-commit'
  readonly value: T

  constructor(value: T) {
    super(CommitEvent.type, { bubbles: true, composed: true })
    this.value = value
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-commit': CommitEvent<unknown>
  }
}
