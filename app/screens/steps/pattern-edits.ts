import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { newId } from '../sheet/new-id.ts'
import { partsOf, playsPatterns } from './pattern-parts.ts'
import type { PatternPlace } from './pattern-place.ts'
import { onPattern } from './pattern-place.ts'

/** Rows and steps that a new pattern begins with. */
const FIRST_ROWS = 4
const FIRST_STEPS = 8

/** A pattern of rests, last of the song, on lamps of the first part that plays patterns, or else of the song's first part. */
export function addPattern(songId: string, name: string): MakeEdit {
  return (show) => {
    const place = show.songs.findIndex(({ id }) => id === songId)
    const song = show.songs[place]
    if (!song) return undefined
    const lamps = firstLamps(show, song).slice(0, FIRST_ROWS)
    const rows = lamps.map((lamp) => ({ lamp, steps: Array.from({ length: FIRST_STEPS }, () => 0) }))
    return {
      label: `Pattern ${name} added to ${song.title}`,
      changes: [
        insert(['songs', place, 'patterns', song.patterns.length], {
          id: nextPatternId(song, name),
          name,
          rows,
        }),
      ],
    }
  }
}

function firstLamps({ rig }: Show, { parts }: Song): readonly string[] {
  const part = parts.find(playsPatterns) ?? parts[0]
  return part?.lamps ?? rig.lamps.map(({ id }) => id)
}

/** The id that a pattern of this name gets. */
export function nextPatternId({ patterns }: Song, name: string): string {
  return newId(
    name,
    patterns.map(({ id }) => id),
  )
}

/** What a pattern is called that has no name of its own yet: "New pattern", "New pattern 2". */
export function newName({ patterns }: Song): string {
  const taken = new Set(patterns.map(({ name }) => name))
  let name = 'New pattern'
  for (let count = 2; taken.has(name); count++) name = `New pattern ${count}`
  return name
}

export function copyName(name: string): string {
  return `${name.slice(0, 190)}, copy`
}

/** Its copy, last of the song: what comes after it by `next-pattern` stays. */
export function copyPattern(where: PatternPlace): MakeEdit {
  return onPattern(where, ({ song, pattern, path }) => {
    const name = copyName(pattern.name)
    const copy = { ...pattern, id: nextPatternId(song, name), name }
    return {
      label: `Pattern ${name} added to ${song.title}`,
      changes: [insert([...path.slice(0, -1), song.patterns.length], copy)],
    }
  })
}

/** Out of the song. Parts that begin with it begin with the next one; the last one of parts that play patterns stays. */
export function removePattern(where: PatternPlace): MakeEdit {
  return onPattern(where, ({ song, pattern, place, path }) => {
    const heir = song.patterns[place + 1] ?? song.patterns.find((one) => one !== pattern)
    if (!heir && song.parts.some(playsPatterns)) return undefined
    const named = song.parts.flatMap(({ strategy }, part) =>
      strategy['pattern'] === pattern.id ? [part] : [],
    )
    return {
      label: `Pattern ${pattern.name} removed`,
      changes: [
        ...named.map((part) => set([...path.slice(0, 2), 'parts', part, 'strategy', 'pattern'], heir?.id)),
        remove(path),
      ],
    }
  })
}

/** undefined takes a field away that may be left out. */
export function setPatternField<
  Field extends 'name' | 'advance' | 'division' | 'swing' | 'gate' | 'gateMs' | 'accentTimes',
>(where: PatternPlace, field: Field, called: string, value: Pattern[Field] | undefined): MakeEdit {
  return onPattern(where, ({ pattern, path }) => {
    if (pattern[field] === value) return undefined
    const way = [...path, field]
    return {
      label: `${called} of ${pattern.name}`,
      changes: [value === undefined ? remove(way) : set(way, value)],
    }
  })
}

/** A part plays patterns from now on, beginning with this one; it gets the lamps of its rows and pads that it has not. */
export function givePattern(where: PatternPlace, partId: string, kind: string): MakeEdit {
  return onPattern(where, ({ song, pattern, path }) => {
    const place = song.parts.findIndex(({ id }) => id === partId)
    const part = song.parts[place]
    if (!part || partsOf(song, pattern).beginning.includes(part)) return undefined
    const way = [...path.slice(0, 2), 'parts', place]
    const wanted = [...pattern.rows, ...pattern.pads].flatMap((one) => ('lamp' in one ? [one.lamp] : []))
    const lamps = [...new Set([...part.lamps, ...wanted])]
    const isPlaying = playsPatterns(part)
    return {
      label: `${part.id} plays ${pattern.name}`,
      changes: [
        isPlaying
          ? set([...way, 'strategy', 'pattern'], pattern.id)
          : set([...way, 'strategy'], { kind, pattern: pattern.id }),
        ...(lamps.length > part.lamps.length ? [set([...way, 'lamps'], lamps)] : []),
      ],
    }
  })
}
