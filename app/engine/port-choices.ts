/** Answers to which port is whose, given before it was asked. Each counts once, for the first that is heard of its port. */
export class PortChoices {
  readonly #places: Map<string, number>

  constructor(places: ReadonlyMap<string, number> = new Map()) {
    this.#places = new Map(places)
  }

  /** `id`: of a player or an output. */
  give(id: string, place: number): void {
    this.#places.set(id, place)
  }

  /** The answer for a port that these have in common, if one waits. It waits no longer. */
  take(ids: readonly string[]): number | undefined {
    let place: number | undefined
    for (const id of ids) {
      place ??= this.#places.get(id)
      this.#places.delete(id)
    }
    return place
  }
}
