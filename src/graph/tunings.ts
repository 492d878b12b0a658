import type { SongId, TuningId } from '../domain/ids.ts'
import type { Show } from '../domain/show.ts'
import type { Song } from '../domain/song.ts'
import type { KeyTuning, TableTuning } from '../domain/tuning-spec.ts'
import { knownTuning } from '../tuning/tuning.ts'
import type { Agenda, Cell, SavedCell } from './agenda.ts'
import type { SongTuning } from './told-tunings.ts'

interface Saved {
  readonly chosen: TuningId | null
  readonly received: readonly TableTuning[]
}

/** Which tuning each part plays in: its own, the one chosen for the song that plays, or the song's; received ones as they were last heard. */
export class Tunings implements Cell {
  readonly name = 'tunings'
  readonly wakeAt = Infinity
  #show: Show
  #chosen: TuningId | null = null
  readonly #received = new Map<TuningId, TableTuning>()

  constructor(show: Show, agenda: Agenda) {
    this.#show = show
    const saved = agenda.saved(this.name)?.state as Saved | undefined
    if (saved) {
      this.#chosen = saved.chosen
      for (const tuning of saved.received) this.#received.set(tuning.id, tuning)
    }
    agenda.add(this)
  }

  /** For the song that plays, in place of its own. */
  get chosen(): TuningId | null {
    return this.#chosen
  }

  choose(tuning: TuningId | null): void {
    this.#chosen = tuning
  }

  received(tuning: TableTuning): void {
    this.#received.set(tuning.id, tuning)
  }

  /** The show was edited. */
  revise(show: Show): void {
    this.#show = show
    const ids = new Set(show.tunings.map(({ id }) => id))
    const received = new Set(show.tunings.flatMap(({ id, kind }) => (kind === 'received' ? [id] : [])))
    for (const id of this.#received.keys()) if (!received.has(id)) this.#received.delete(id)
    if (this.#chosen !== null && !ids.has(this.#chosen)) this.#chosen = null
  }

  /** Per part, of a song as it begins. Throws an Error where it names a tuning that the show has not. */
  ofSong(song: Song): KeyTuning[] {
    return this.#of(song, song.tuning)
  }

  /** The same of the song that plays. */
  ofPlaying(song: Song): KeyTuning[] {
    return this.#of(song, this.#chosen ?? song.tuning)
  }

  /** What the song that plays is in, but for parts with a tuning of their own. */
  whole({ id, tuning }: Song): SongTuning {
    const wanted = this.#chosen ?? tuning
    return { id: wanted, tuning: this.#known(id, wanted) }
  }

  wake(): void {}

  save(): SavedCell {
    const state: Saved = { chosen: this.#chosen, received: [...this.#received.values()] }
    return { state, wakeAt: null }
  }

  #of({ id, parts }: Song, whole: TuningId): KeyTuning[] {
    return parts.map((part) => this.#known(id, part.tuning ?? whole))
  }

  #known(song: SongId, wanted: TuningId): KeyTuning {
    const tuning = this.#received.get(wanted) ?? knownTuning(this.#show.tunings, wanted)
    if (!tuning) throw new Error(`Song "${song}" names an unknown tuning "${wanted}"`)
    return tuning
  }
}
