import type { Micros } from '../domain/units.ts'

/** A stage in the graph that keeps state and may want to be woken. */
export interface Cell {
  readonly name: string
  /** Absolute time of the next wake; Infinity for none. */
  readonly wakeAt: Micros
  wake(): void
  save(): SavedCell
}

export interface SavedCell {
  readonly state: unknown
  readonly wakeAt: Micros | null
}

/** Where stages stand, and what they may ask of the whole. */
export type CellPlace = Pick<Agenda, 'now' | 'saved' | 'add' | 'remove' | 'post' | 'afterwards'>

/**
 * What time it is in the graph, who wants to be woken, and what waits its turn. Events raised while another is handled are posted, and
 * run in order once it is done, so that no emission re-enters a stage.
 */
export class Agenda {
  now: Micros
  readonly #cells = new Map<string, Cell>()
  #saved: Readonly<Record<string, SavedCell>>
  #queue: (() => void)[] = []
  #last: (() => void)[] = []

  constructor(now: Micros, saved: Readonly<Record<string, SavedCell>> = {}) {
    this.now = now
    this.#saved = saved
  }

  /** What a cell of this name was before, where the graph goes on from a saved state. */
  saved(name: string): SavedCell | undefined {
    return this.#saved[name]
  }

  /** What is built from now on begins anew. */
  forgetSaved(): void {
    this.#saved = {}
  }

  add(cell: Cell): void {
    if (this.#cells.has(cell.name)) throw new Error(`Two stages are called "${cell.name}"`)
    this.#cells.set(cell.name, cell)
  }

  remove(cell: Cell): void {
    if (this.#cells.get(cell.name) === cell) this.#cells.delete(cell.name)
  }

  post(task: () => void): void {
    this.#queue.push(task)
  }

  /** To be run once nothing posted is left, what it posts itself included. */
  afterwards(task: () => void): void {
    this.#last.push(task)
  }

  /** Runs what was posted, and what that posts, in order. */
  drain(): void {
    for (;;) {
      for (let next = 0; next < this.#queue.length; next++) (this.#queue[next] as () => void)()
      if (this.#queue.length > 0) this.#queue = []
      const task = this.#last.shift()
      if (!task) return
      task()
    }
  }

  /** Time of the first wake; Infinity for none. */
  nextWake(): Micros {
    let first = Infinity
    for (const cell of this.#cells.values()) if (cell.wakeAt < first) first = cell.wakeAt
    return first
  }

  /** Wakes every cell that is due now, in the order they were added, and runs what each posts. */
  wakeDue(): void {
    for (const cell of Array.from(this.#cells.values())) {
      // One before it may have ended the song it belonged to.
      if (cell.wakeAt > this.now || this.#cells.get(cell.name) !== cell) continue
      cell.wake()
      this.drain()
    }
  }

  save(): Record<string, SavedCell> {
    return Object.fromEntries([...this.#cells.values()].map((cell) => [cell.name, cell.save()]))
  }
}
