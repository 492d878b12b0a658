import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** Files dragged over the page, anywhere: whether any are, and what is done with those that are let go. */
export class FileDropController implements ReactiveController {
  readonly #element: ReactiveControllerHost
  readonly #drop: (files: readonly File[]) => void
  #isOver = false

  constructor(element: ReactiveControllerHost, drop: (files: readonly File[]) => void) {
    this.#element = element
    this.#drop = drop
    element.addController(this)
  }

  get isOver(): boolean {
    return this.#isOver
  }

  hostConnected(): void {
    window.addEventListener('dragover', this.#over)
    window.addEventListener('dragleave', this.#left)
    window.addEventListener('drop', this.#dropped)
  }

  hostDisconnected(): void {
    window.removeEventListener('dragover', this.#over)
    window.removeEventListener('dragleave', this.#left)
    window.removeEventListener('drop', this.#dropped)
  }

  readonly #over = (event: DragEvent): void => {
    if (!event.dataTransfer?.types.includes('Files')) return
    event.preventDefault()
    event.dataTransfer.dropEffect = 'copy'
    this.#mark(true)
  }

  readonly #left = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.#mark(false)
  }

  readonly #dropped = (event: DragEvent): void => {
    this.#mark(false)
    const files = [...(event.dataTransfer?.files ?? [])]
    if (files.length === 0) return
    // A page that does nothing here is replaced by the file.
    event.preventDefault()
    this.#drop(files)
  }

  #mark(isOver: boolean): void {
    if (isOver === this.#isOver) return
    this.#isOver = isOver
    this.#element.requestUpdate()
  }
}
