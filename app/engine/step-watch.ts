import type { PartSteps } from '../../src/contract/from-engine.ts'
import type { SongId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { firstPattern } from '../../src/strategies/steps-ready.ts'

/** Where the patterns of the song that plays are, part by part, from what the tap says. */
export class StepWatch {
  #parts = new Map<string, PartSteps>()
  #isNew = false

  /** The song begins: its patterns stand before their first step. */
  begin({ songs }: Pick<Show, 'songs'>, songId: SongId): void {
    const song = songs.find(({ id }) => id === songId)
    this.#isNew ||= this.#parts.size > 0
    this.#parts = new Map()
    for (const { id, strategy } of song?.parts ?? []) {
      const pattern = strategy.kind === 'steps' && song?.patterns[firstPattern(song, strategy['pattern'])]
      if (!pattern) continue
      const { rows } = pattern
      this.#isNew = true
      this.#parts.set(id, {
        part: id,
        pattern: pattern.id,
        rows: rows.map(() => -1),
        muted: rows.map(({ muted }) => muted),
      })
    }
  }

  moved({ part, pattern, rows, muted }: Extract<TapEvent, { kind: 'step' }>): void {
    this.#parts.set(part, { part, pattern, rows: [...rows], muted: [...muted] })
    this.#isNew = true
  }

  /** Undefined where nothing changed since the last call. */
  news(): PartSteps[] | undefined {
    if (!this.#isNew) return undefined
    this.#isNew = false
    return [...this.#parts.values()]
  }
}
