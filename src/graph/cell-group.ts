import type { Micros } from '../domain/units.ts'
import type { Agenda, Cell, CellPlace, SavedCell } from './agenda.ts'

/** The stages of one song. They may be ready before the song plays, and take part in the agenda only while it does. */
export class CellGroup implements CellPlace {
  readonly #agenda: Agenda
  readonly #cells = new Set<Cell>()
  #isOn = false

  constructor(agenda: Agenda) {
    this.#agenda = agenda
  }

  get now(): Micros {
    return this.#agenda.now
  }

  saved(name: string): SavedCell | undefined {
    return this.#agenda.saved(name)
  }

  add(cell: Cell): void {
    for (const other of this.#cells)
      if (other.name === cell.name) throw new Error(`Two stages of a song are called "${cell.name}"`)
    this.#cells.add(cell)
    if (this.#isOn) this.#agenda.add(cell)
  }

  remove(cell: Cell): void {
    this.#cells.delete(cell)
    this.#agenda.remove(cell)
  }

  post(task: () => void): void {
    this.#agenda.post(() => this.#run(task))
  }

  afterwards(task: () => void): void {
    this.#agenda.afterwards(() => this.#run(task))
  }

  /** The song plays from here on. */
  goOn(): void {
    this.#isOn = true
    for (const cell of this.#cells) this.#agenda.add(cell)
  }

  /** It is over: nobody is woken any more, and what was posted does not happen. */
  leave(): void {
    this.#isOn = false
    for (const cell of this.#cells) this.#agenda.remove(cell)
  }

  #run(task: () => void): void {
    if (this.#isOn) task()
  }
}
