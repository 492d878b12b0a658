/** Why a request, a connection or a message was turned away. */
export type RefusalWhy =
  | 'wrong host'
  | 'wrong origin'
  | 'no such file'
  | 'too many connections'
  | 'nothing said'
  | 'too long'
  | 'not text'
  | 'not understood'
  | 'too many messages'
  | 'no key'
  | 'wrong key'
  | 'wrong code'
  | 'codes closed'

/** Counts who and what was turned away since the start. */
export class Refusals {
  readonly #counts = new Map<RefusalWhy, number>()
  readonly #counted: () => void

  constructor(counted: () => void = () => {}) {
    this.#counted = counted
  }

  count(why: RefusalWhy): void {
    this.#counts.set(why, (this.#counts.get(why) ?? 0) + 1)
    this.#counted()
  }

  get total(): number {
    return [...this.#counts.values()].reduce((sum, count) => sum + count, 0)
  }

  /** `3 wrong code, 1 wrong host`; empty where nobody was turned away. */
  words(): string {
    return [...this.#counts].map(([why, count]) => `${count} ${why}`).join(', ')
  }
}
