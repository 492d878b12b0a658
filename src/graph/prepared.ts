import type { SongId } from '../domain/ids.ts'
import type { SongBranch } from './song-branch.ts'

/** Songs that have been made ready before they are needed: each plays once. */
export class Prepared {
  readonly #make: (song: SongId) => SongBranch
  readonly #ready = new Map<SongId, SongBranch>()

  /** `make` throws a RangeError for a song that the show has not. */
  constructor(make: (song: SongId) => SongBranch) {
    this.#make = make
  }

  has(song: SongId): boolean {
    return this.#ready.has(song)
  }

  prepare(song: SongId): void {
    if (!this.#ready.has(song)) this.#ready.set(song, this.#make(song))
  }

  /** The song, made now where it is not ready. */
  take(song: SongId): SongBranch {
    const ready = this.#ready.get(song)
    this.#ready.delete(song)
    return ready ?? this.#make(song)
  }

  /** Lets go of all others. */
  keep(songs: ReadonlySet<SongId>): void {
    for (const [song, branch] of this.#ready) {
      if (songs.has(song)) continue
      this.#ready.delete(song)
      branch.dispose()
    }
  }
}
