import type { ReactiveControllerHost } from 'lit'
import type { LampId } from '../../../src/domain/ids.ts'
import { ask } from './ask-event.ts'
import type { HouseView } from './house-view.ts'

const WORDS_READ = 'lanthorn-find-words'
/** What the view's words about finding are said by. */
const SOURCE = 'find a lamp'

/** Lights lamps to be found, one at a time; the first time in a tab only after a word of caution. */
export class FindController {
  readonly #element: ReactiveControllerHost & EventTarget
  #view: HouseView | undefined
  #asking: LampId | undefined
  #wordsBefore = 0

  constructor(element: ReactiveControllerHost & EventTarget) {
    this.#element = element
  }

  /** The lamp for which the word of caution waits to be answered. */
  get asking(): LampId | undefined {
    return this.#asking
  }

  /** Why the last lamp was not lit, or not for its time; empty: it was. */
  get why(): string {
    const word = this.#view?.words.findLast(({ source }) => source === SOURCE)
    return word && word.count > this.#wordsBefore ? word.message : ''
  }

  /** To be told each view, before it is shown. */
  see(view: HouseView): void {
    this.#view = view
  }

  press(lamp: LampId): void {
    if (this.#view?.finding === lamp) return ask(this.#element, { type: 'find-lamp', lamp: null })
    if (sessionStorage.getItem(WORDS_READ) !== null) return this.#light(lamp)
    this.#asking = lamp
    this.#element.requestUpdate()
  }

  /** The word of caution is read, or it is let be. */
  answer(isYes: boolean): void {
    const lamp = this.#asking
    this.#asking = undefined
    this.#element.requestUpdate()
    if (!isYes || lamp === undefined) return
    sessionStorage.setItem(WORDS_READ, 'read')
    this.#light(lamp)
  }

  #light(lamp: LampId): void {
    this.#wordsBefore = this.#view?.words.at(-1)?.count ?? 0
    ask(this.#element, { type: 'find-lamp', lamp })
  }
}
