import type { Micros } from '../domain/units.ts'
import type { Agenda, Cell, CellPlace, SavedCell } from './agenda.ts'
import { addCell, removeCell } from './agenda.ts'

/** The stages of one song. They may be ready before the song plays, and take part in the agenda only while it does. */
export class CellGroup implements CellPlace {
  readonly #agenda: Agenda
  readonly #cells: Cell[] = []
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
    addCell(this.#cells, cell)
  }

  remove(cell: Cell): void {
    removeCell(this.#cells, cell)
  }

  post(task: () => void): void {
    this.#agenda.post(() => this.#run(task))
  }

  afterwards(task: () => void): void {
    this.#agenda.afterwards(() => this.#run(task))
  }

  /** The song plays from here on, in place of the one before. */
  goOn(): void {
    this.#isOn = true
    this.#agenda.playSong(this.#cells)
  }

  /** Another plays: nothing that was posted happens any more. */
  leave(): void {
    this.#isOn = false
  }

  #run(task: () => void): void {
    if (this.#isOn) task()
  }
}
