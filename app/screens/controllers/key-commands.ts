import type { ReactiveController } from 'lit'

/** What keys can do wherever the focus is. */
export interface KeyCommands {
  dark(): void
  undo(): void
  redo(): void
  /** A room by its place on the rail, from 0. */
  room(place: number): void
  /** True: it was of use here, and the page does not scroll. */
  turn(to: 'next' | 'previous'): boolean
}

/**
 * F8 darkens, everywhere. Ctrl or Cmd with Z undoes, with Shift and Z or with Y does again; Alt and a digit goes to a room; Page Down and Page Up, which pedals
 * that turn pages send, change songs. All but F8 leave fields of text alone.
 */
export class KeyCommandsController implements ReactiveController {
  readonly #commands: KeyCommands

  constructor(commands: KeyCommands) {
    this.#commands = commands
  }

  hostConnected(): void {
    window.addEventListener('keydown', this.#first, { capture: true })
    window.addEventListener('keydown', this.#last)
  }

  hostDisconnected(): void {
    window.removeEventListener('keydown', this.#first, { capture: true })
    window.removeEventListener('keydown', this.#last)
  }

  /** Before any element can keep the key for itself. */
  readonly #first = (event: KeyboardEvent): void => {
    if (event.key !== 'F8') return
    event.preventDefault()
    if (!event.repeat) this.#commands.dark()
  }

  /** After elements had their say. */
  readonly #last = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || isField(event.composedPath()[0])) return
    if (this.#did(event)) event.preventDefault()
  }

  #did(event: KeyboardEvent): boolean {
    const { altKey, ctrlKey, metaKey, shiftKey, repeat } = event
    const key = event.key.toLowerCase()
    const hasCommand = (ctrlKey || metaKey) && !altKey
    if (hasCommand && key === 'z') {
      if (shiftKey) this.#commands.redo()
      else this.#commands.undo()
      return true
    }
    if (ctrlKey && !altKey && !shiftKey && key === 'y') {
      this.#commands.redo()
      return true
    }
    const digit = /^Digit([1-9])$/.exec(event.code)?.[1]
    if (altKey && !ctrlKey && !metaKey && !shiftKey && digit !== undefined) {
      this.#commands.room(Number(digit) - 1)
      return true
    }
    if (ctrlKey || metaKey || altKey || shiftKey || repeat) return false
    if (key === 'pagedown') return this.#commands.turn('next')
    if (key === 'pageup') return this.#commands.turn('previous')
    return false
  }
}

const NOT_TEXT = new Set(['button', 'checkbox', 'color', 'file', 'radio', 'range', 'reset', 'submit'])

/** Whether keys typed here are text, or choose among options. */
function isField(target: EventTarget | undefined): boolean {
  if (target instanceof HTMLInputElement) return !NOT_TEXT.has(target.type)
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true
  return target instanceof HTMLElement && target.isContentEditable
}
