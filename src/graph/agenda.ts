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
export interface CellPlace {
  readonly now: Micros
  /** What a cell of this name was before, where the graph goes on from a saved state. */
  saved(name: string): SavedCell | undefined
  add(cell: Cell): void
  remove(cell: Cell): void
  /** To be run once what happens now is done. */
  post(task: () => void): void
  /** To be run once nothing posted is left, what it posts itself included. */
  afterwards(task: () => void): void
}

/**
 * What time it is in the graph, who wants to be woken, and what waits its turn. Events raised while another is handled are posted, and
 * run in order once it is done, so that no emission re-enters a stage.
 */
export class Agenda implements CellPlace {
  now: Micros
  readonly #cells: Cell[] = []
  /** Those of the song that plays: after the others, and all at once others when another song begins. */
  #song: readonly Cell[] = []
  #saved: Readonly<Record<string, SavedCell>>
  #queue: (() => void)[] = []
  #last: (() => void)[] = []

  constructor(now: Micros, saved: Readonly<Record<string, SavedCell>> = {}) {
    this.now = now
    this.#saved = saved
  }

  saved(name: string): SavedCell | undefined {
    return this.#saved[name]
  }

  /** What is built from now on begins anew. */
  forgetSaved(): void {
    this.#saved = {}
  }

  add(cell: Cell): void {
    addCell(this.#cells, cell)
  }

  remove(cell: Cell): void {
    removeCell(this.#cells, cell)
  }

  /** The song's cells from here on; a list that may change. */
  playSong(cells: readonly Cell[]): void {
    this.#song = cells
  }

  post(task: () => void): void {
    this.#queue.push(task)
  }

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
    return Math.min(firstWake(this.#cells), firstWake(this.#song))
  }

  /** Wakes every cell that is due now, in the order they were added, and runs what each posts. */
  wakeDue(): void {
    if (this.nextWake() > this.now) return
    for (const cell of [...this.#cells, ...this.#song]) {
      // One before it may have ended the song it belonged to.
      const isThere = cell.wakeAt <= this.now && (this.#song.includes(cell) || this.#cells.includes(cell))
      if (!isThere) continue
      cell.wake()
      this.drain()
    }
  }

  save(): Record<string, SavedCell> {
    return Object.fromEntries([...this.#cells, ...this.#song].map((cell) => [cell.name, cell.save()]))
  }
}

/** Adds a cell; names are how a saved state finds its cell. */
export function addCell(cells: Cell[], cell: Cell): void {
  if (cells.some(({ name }) => name === cell.name)) throw new Error(`Two stages are called "${cell.name}"`)
  cells.push(cell)
}

export function removeCell(cells: Cell[], cell: Cell): void {
  const place = cells.indexOf(cell)
  if (place >= 0) cells.splice(place, 1)
}

function firstWake(cells: readonly Cell[]): Micros {
  let first = Infinity
  for (let at = 0; at < cells.length; at++) first = Math.min(first, (cells[at] as Cell).wakeAt)
  return first
}
