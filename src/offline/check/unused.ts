import type { JsonPath } from '../../show/json-path.ts'
import { songsReached } from '../songs-reached.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { lampsNamed, listed } from './listed.ts'
import type { Survey } from './survey.ts'

/** What the show has and no song needs that the night can come to: those of the set list, variants, and those that a control goes to. */
export function unusedFindings({ show, songs }: Survey): CheckFinding[] {
  const reachedSongs = new Set(songsReached(show).map(({ id }) => id))
  const played = songs.filter(({ song }) => reachedSongs.has(song.id))
  const parts = played.flatMap((song) => song.parts)
  const lit = new Set(parts.flatMap(({ lamps }) => lamps.map(({ lamp }) => lamp.id)))
  // Somebody may be there for the pedal that changes songs and no more.
  const heard = [...show.thru, ...show.switching.controls].map(({ player }) => player)
  const playing = new Set([...parts.map(({ part }) => part.player), ...heard])
  const reached = new Set([...show.rig.lamps.map((lamp) => lamp.output), ...show.thru.map(({ to }) => to)])
  const feeding = new Set(show.rig.lamps.map((lamp) => lamp.supply))

  const lamps = without(show.rig.lamps, lit)
  const players = without(show.players, playing)
  const outputs = without(show.rig.outputs, reached)
  const supplies = without(show.rig.supplies, feeding)
  const left = without(show.songs, reachedSongs)
  const empty = show.songs.flatMap(({ id, parts: own }, index) =>
    reachedSongs.has(id) && own.length === 0 ? [{ id, index }] : [],
  )
  return [
    ...finding(
      lamps,
      'warning',
      ['rig', 'lamps'],
      (ids) =>
        `${lampsNamed(ids)} ${are(ids)} in no song of the set list and ${ids.length === 1 ? 'stays' : 'stay'} dark all night. ` +
        'Give them to a part, or take them out.',
    ),
    ...finding(
      players,
      'warning',
      ['players'],
      (ids) =>
        `${noun('player', ids)} ${are(ids)} in no song of the set list: nothing they play lights a lamp. Give them a part, or take them out.`,
    ),
    ...finding(
      empty,
      'warning',
      ['songs'],
      (ids) => `${noun('song', ids)} ${are(ids)} on the set list without a part: every lamp stays dark.`,
    ),
    ...finding(
      left,
      'note',
      ['setList'],
      (ids) => `${noun('song', ids)} ${are(ids)} not on the set list, and no control goes there.`,
      ['setList'],
    ),
    ...finding(
      outputs,
      'note',
      ['rig', 'outputs'],
      (ids) =>
        `${noun('output', ids)} ${ids.length === 1 ? 'has' : 'have'} no lamp and nothing is passed there, but the port is opened all the same.`,
    ),
    ...finding(
      supplies,
      'note',
      ['rig', 'supplies'],
      (ids) =>
        `${ids.length === 1 ? 'supply' : 'supplies'} ${listed(ids)} ${ids.length === 1 ? 'feeds' : 'feed'} no lamp.`,
    ),
  ]
}

interface Unused {
  readonly id: string
  /** Its place in its list. */
  readonly index: number
}

function without(things: readonly { readonly id: string }[], used: ReadonlySet<string>): Unused[] {
  return things.flatMap(({ id }, index) => (used.has(id) ? [] : [{ id, index }]))
}

/** `list`: where they stand; the first of them is where to mend it, unless that is `mend`. */
function finding(
  things: readonly Unused[],
  gravity: CheckFinding['gravity'],
  list: JsonPath,
  say: (ids: readonly string[]) => string,
  mend?: JsonPath,
): CheckFinding[] {
  const [first] = things
  if (!first) return []
  const path = mend ?? [...list, first.index]
  return [{ gravity, ...placeAt(list), path, message: say(things.map(({ id }) => id)) }]
}

function noun(word: string, ids: readonly string[]): string {
  return `${word}${ids.length === 1 ? '' : 's'} ${listed(ids)}`
}

function are(ids: readonly string[]): string {
  return ids.length === 1 ? 'is' : 'are'
}
