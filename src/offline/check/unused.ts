import type { CheckFinding } from './finding.ts'
import { lampsNamed, listed } from './listed.ts'
import type { Survey } from './survey.ts'

/** What the show has and its set list never needs. */
export function unusedFindings({ show, songs }: Survey): CheckFinding[] {
  const onList = new Set(show.setList)
  const played = songs.filter(({ song }) => onList.has(song.id))
  const parts = played.flatMap((song) => song.parts)
  const lit = new Set(parts.flatMap(({ lamps }) => lamps.map(({ lamp }) => lamp.id)))
  const playing = new Set([...parts.map(({ part }) => part.player), ...show.thru.map(({ player }) => player)])
  const reached = new Set([...show.rig.lamps.map((lamp) => lamp.output), ...show.thru.map(({ to }) => to)])
  const feeding = new Set(show.rig.lamps.map((lamp) => lamp.supply))

  const lamps = idsWithout(show.rig.lamps, lit)
  const players = idsWithout(show.players, playing)
  const outputs = idsWithout(show.rig.outputs, reached)
  const supplies = idsWithout(show.rig.supplies, feeding)
  const left = idsWithout(show.songs, onList)
  const empty = played.filter(({ song }) => song.parts.length === 0).map(({ song }) => song.id)
  return [
    ...finding(
      lamps,
      'warning',
      '$.rig.lamps',
      (ids) =>
        `${lampsNamed(ids)} ${are(ids)} in no song of the set list and ${ids.length === 1 ? 'stays' : 'stay'} dark all night. ` +
        'Give them to a part, or take them out.',
    ),
    ...finding(
      players,
      'warning',
      '$.players',
      (ids) =>
        `${noun('player', ids)} ${are(ids)} in no song of the set list: nothing they play lights a lamp. Give them a part, or take them out.`,
    ),
    ...finding(
      empty,
      'warning',
      '$.songs',
      (ids) => `${noun('song', ids)} ${are(ids)} on the set list without a part: every lamp stays dark.`,
    ),
    ...finding(left, 'note', '$.setList', (ids) => `${noun('song', ids)} ${are(ids)} not on the set list.`),
    ...finding(
      outputs,
      'note',
      '$.rig.outputs',
      (ids) =>
        `${noun('output', ids)} ${ids.length === 1 ? 'has' : 'have'} no lamp and nothing is passed there, but the port is opened all the same.`,
    ),
    ...finding(
      supplies,
      'note',
      '$.rig.supplies',
      (ids) =>
        `${ids.length === 1 ? 'supply' : 'supplies'} ${listed(ids)} ${ids.length === 1 ? 'feeds' : 'feed'} no lamp.`,
    ),
  ]
}

function idsWithout(things: readonly { readonly id: string }[], used: ReadonlySet<string>): string[] {
  return things.map(({ id }) => id).filter((id) => !used.has(id))
}

function finding(
  ids: readonly string[],
  gravity: CheckFinding['gravity'],
  where: string,
  say: (ids: readonly string[]) => string,
): CheckFinding[] {
  return ids.length === 0 ? [] : [{ gravity, where, message: say(ids) }]
}

function noun(word: string, ids: readonly string[]): string {
  return `${word}${ids.length === 1 ? '' : 's'} ${listed(ids)}`
}

function are(ids: readonly string[]): string {
  return ids.length === 1 ? 'is' : 'are'
}
