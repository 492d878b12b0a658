import type { Pattern, PatternRow } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'

/** A pattern by its song's id and its own. */
export interface PatternPlace {
  readonly song: string
  readonly pattern: string
}

/** A row by its own id within its pattern. */
export interface RowPlace extends PatternPlace {
  readonly row: string
}

export interface FoundPattern {
  readonly show: Show
  readonly song: Song
  readonly pattern: Pattern
  readonly place: number
  readonly path: readonly (string | number)[]
}

export interface FoundRow extends FoundPattern {
  readonly row: PatternRow
  readonly rowPlace: number
  readonly rowPath: readonly (string | number)[]
  /** "Fern in Five against four" */
  readonly name: string
}

/** Works an edit out on a pattern; nothing where it is not there any more. */
export function onPattern(where: PatternPlace, make: (found: FoundPattern) => Edit | undefined): MakeEdit {
  return (show) => {
    const songPlace = show.songs.findIndex(({ id }) => id === where.song)
    const song = show.songs[songPlace]
    const place = song?.patterns.findIndex(({ id }) => id === where.pattern) ?? -1
    const pattern = song?.patterns[place]
    if (!song || !pattern) return undefined
    return make({ show, song, pattern, place, path: ['songs', songPlace, 'patterns', place] })
  }
}

/** The same on one of its rows. */
export function onRow(where: RowPlace, make: (found: FoundRow) => Edit | undefined): MakeEdit {
  return onPattern(where, (found) => {
    const rowPlace = found.pattern.rows.findIndex(({ id }) => id === where.row)
    const row = found.pattern.rows[rowPlace]
    if (!row) return undefined
    const rowPath = [...found.path, 'rows', rowPlace]
    return make({
      ...found,
      row,
      rowPlace,
      rowPath,
      name: `${rowName(found.show, row)} in ${found.pattern.name}`,
    })
  })
}

/** A row is called like its lamp; one that has an id of its own besides, by both. */
export function rowName({ rig }: Pick<Show, 'rig'>, { id, lamp }: Pick<PatternRow, 'id' | 'lamp'>): string {
  const name = rig.lamps.find((one) => one.id === lamp)?.name ?? lamp
  return id === lamp ? name : `${name} (${id})`
}
