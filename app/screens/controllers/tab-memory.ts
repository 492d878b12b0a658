/** A yes or no that this tab remembers over a reload, and forgets when it is closed. */
export class TabMemory {
  readonly #key: string

  constructor(key: string) {
    this.#key = `lanthorn-${key}`
  }

  get isOn(): boolean {
    return sessionStorage.getItem(this.#key) !== null
  }

  set(isOn: boolean): void {
    if (isOn) sessionStorage.setItem(this.#key, 'on')
    else sessionStorage.removeItem(this.#key)
  }
}
