import type { EditAsk, EditedHouse } from './edited-house.ts'

/** What has the focus, however deep in shadows it is. */
const FOCUSED = `(() => {
  let element = document.activeElement
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement
  return element
})()`
const NAME = `((element) => (element?.getAttribute('aria-label') ?? element?.labels?.[0]?.textContent ?? element?.textContent ?? '').trim().replace(/\\s+/g, ' '))(${FOCUSED})`
const MOST_TABS = 400

/** Works a page with the keyboard alone, as somebody would who has no mouse. */
export class KeyboardForm {
  readonly #house: EditedHouse

  constructor(house: EditedHouse) {
    this.#house = house
  }

  focused(): Promise<string> {
    return this.#house.page.evaluate<string>(NAME)
  }

  press(key: string): Promise<void> {
    return this.#house.page.keyboard.press(key)
  }

  /** Tab, until what has that name has the focus. */
  async tabTo(name: string): Promise<void> {
    const passed: string[] = []
    for (let tabs = 0; tabs <= MOST_TABS; tabs++) {
      const now = await this.focused()
      if (now === name) return
      passed.push(now)
      await this.press('Tab')
    }
    throw new Error(`Tab never comes to “${name}”; it came to ${[...new Set(passed)].join(' | ')}`)
  }

  /** What the focused field shows. */
  shown(): Promise<string> {
    return this.#house.page.evaluate<string>(
      `((element) => element.selectedOptions?.[0]?.textContent.trim() ?? element.value ?? '')(${FOCUSED})`,
    )
  }

  /** Types into a field in place of what stands there, and enters it. */
  async type(name: string, text: string): Promise<void> {
    await this.tabTo(name)
    await this.press('Control+A')
    await this.#house.page.keyboard.type(text)
    await this.press('Enter')
  }

  /** Goes on in a list of choices until `text` is chosen; the last edit is the answer. */
  async choose(name: string, text: string): Promise<EditAsk> {
    await this.tabTo(name)
    let last: EditAsk | undefined
    const key = (await this.#isBelow(text)) ? 'ArrowDown' : 'ArrowUp'
    for (let steps = 0; (await this.shown()) !== text; steps++) {
      if (steps > 30) throw new Error(`“${text}” is not among the choices of ${name}`)
      const before = await this.shown()
      await this.press(key)
      last = await this.#house.next()
      await this.#until(async () => (await this.shown()) !== before)
    }
    if (!last) throw new Error(`“${text}” was chosen already`)
    return last
  }

  /** Space or Enter on what has that name. */
  async push(name: string, key: 'Space' | 'Enter' = 'Enter'): Promise<void> {
    await this.tabTo(name)
    await this.press(key)
  }

  async #until(holds: () => Promise<boolean>): Promise<void> {
    const end = performance.now() + 10_000
    while (!(await holds())) {
      if (performance.now() > end) throw new Error('the field never showed what was chosen')
      await new Promise((resolve) => setTimeout(resolve, 5))
    }
  }

  #isBelow(text: string): Promise<boolean> {
    return this.#house.page.evaluate<boolean>(
      `((element) => [...element.options].findIndex((one) => one.textContent.trim() === ${JSON.stringify(text)}) > element.selectedIndex)(${FOCUSED})`,
    )
  }
}
