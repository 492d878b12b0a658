import type { LampIndex } from '../domain/ids.ts'
import type { Micros } from '../domain/units.ts'
import type { Agenda, Cell, SavedCell } from './agenda.ts'

/** Which lamp is lit to be found, and until when. It stands in the agenda only while there is one, so that it is nothing to anybody otherwise. */
export class Finder implements Cell {
  readonly name = 'find'
  wakeAt: Micros = Infinity
  readonly #agenda: Agenda
  readonly #over: () => void
  #lamp: LampIndex | undefined

  /** `over`: its time has come. */
  constructor(agenda: Agenda, over: () => void) {
    this.#agenda = agenda
    this.#over = over
    const saved = agenda.saved(this.name)
    if (saved) this.begin(saved.state as LampIndex, saved.wakeAt ?? agenda.now)
  }

  get lamp(): LampIndex | undefined {
    return this.#lamp
  }

  begin(lamp: LampIndex, until: Micros): void {
    this.#lamp = lamp
    this.wakeAt = until
    this.#agenda.remove(this)
    this.#agenda.add(this)
  }

  end(): void {
    this.#lamp = undefined
    this.wakeAt = Infinity
    this.#agenda.remove(this)
  }

  wake(): void {
    this.#over()
  }

  save(): SavedCell {
    return { state: this.#lamp, wakeAt: this.wakeAt }
  }
}
