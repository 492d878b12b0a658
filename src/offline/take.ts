import type { PlayerId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Show } from '../domain/show.ts'
import type { Micros } from '../domain/units.ts'
import type { FileTrack, MidiFile } from '../midi/file.ts'

/** A recorded performance, each message with the player it belongs to, in order of time. */
export interface Take {
  readonly events: readonly TakeEvent[]
  readonly endsAt: Micros
  /** Note-ons of the file, those that feed no player among them. */
  readonly notesIn: number
  /** Players that have tracks of their own: what their ports' channels are does not matter. */
  readonly wholeTracks: ReadonlySet<PlayerId>
  readonly warnings: readonly string[]
}

export interface TakeEvent {
  readonly at: Micros
  readonly player: PlayerId
  readonly message: MidiMessage
}

export type TakeResult =
  | { readonly ok: true; readonly take: Take }
  | { readonly ok: false; readonly what: string; readonly todo: string }

/**
 * Gives a file's tracks to a show's players. `map` has track names or numbers (from 1) and the player each feeds; else a track whose name is a player's
 * id or port feeds that player, and in other tracks the channels decide: a message goes to the first player in the show that listens to its channel. A system
 * exclusive has none, and goes to each player that such tracks feed.
 */
export function routeTake(
  file: MidiFile,
  show: Show,
  map: ReadonlyMap<string, PlayerId> = new Map(),
): TakeResult {
  const fault = mapFault(file, show, map)
  if (fault) return { ok: false, ...fault }
  const events: TakeEvent[] = []
  const warnings: string[] = []
  const wholeTracks = new Set<PlayerId>()
  let notesIn = 0
  const players = file.tracks.map(
    ({ name }, index) => map.get(name) ?? map.get(String(index + 1)) ?? playerNamed(name, show),
  )
  const byChannel = fedByChannel(
    file.tracks.filter((_, index) => players[index] === undefined),
    show,
  )
  file.tracks.forEach((track, index) => {
    const player = players[index]
    if (player !== undefined) wholeTracks.add(player)
    const lost = new Map<number, number>()
    for (const { at, message } of track.events) {
      const to = player ?? playerOfChannel(message, show)
      if (player === undefined && message.type === 'sysex')
        for (const one of byChannel) events.push({ at, player: one, message })
      if (message.type === 'note-on') notesIn++
      if (to !== undefined) events.push({ at, player: to, message })
      else if (message.type === 'note-on') lost.set(message.channel, (lost.get(message.channel) ?? 0) + 1)
    }
    for (const [channel, notes] of lost) {
      warnings.push(
        `${trackWords(track, index)}: ${notes} ${notes === 1 ? 'note' : 'notes'} on channel ${channel} feed no player; name the track after a player or map it`,
      )
    }
  })
  // Stable: what a file has at one time keeps the order of its tracks.
  events.sort((a, b) => a.at - b.at)
  return { ok: true, take: { events, endsAt: file.endsAt, notesIn, wholeTracks, warnings } }
}

function mapFault(
  file: MidiFile,
  show: Show,
  map: ReadonlyMap<string, PlayerId>,
): { readonly what: string; readonly todo: string } | undefined {
  const players = show.players.map(({ id }) => id)
  const names = file.tracks.map(({ name }, index) =>
    name === '' ? `${index + 1}` : `${index + 1} "${name}"`,
  )
  for (const [track, player] of map) {
    if (!players.includes(player)) {
      return { what: `the show has no player "${player}"`, todo: `use one of ${players.join(', ')}` }
    }
    const isThere = file.tracks.some(({ name }, index) => name === track || String(index + 1) === track)
    if (!isThere)
      return { what: `the take has no track "${track}"`, todo: `its tracks are ${names.join(', ')}` }
  }
  return undefined
}

function playerNamed(name: string, show: Show): PlayerId | undefined {
  if (name === '') return undefined
  return (show.players.find(({ id }) => id === name) ?? show.players.find(({ input }) => input.port === name))
    ?.id
}

function playerOfChannel(message: MidiMessage, show: Show): PlayerId | undefined {
  if (!('channel' in message)) return undefined
  return show.players.find(({ input }) => input.channels.includes(message.channel))?.id
}

function fedByChannel(tracks: readonly FileTrack[], show: Show): PlayerId[] {
  const fed = tracks.flatMap(({ events }) =>
    events.flatMap(({ message }) => playerOfChannel(message, show) ?? []),
  )
  return [...new Set(fed)]
}

function trackWords({ name }: FileTrack, index: number): string {
  return name === '' ? `track ${index + 1}` : `track ${index + 1} "${name}"`
}

/** The show with the ports of whole-track players open to every channel. */
export function showForTake(show: Show, take: Take): Show {
  const every = Array.from({ length: 16 }, (_, index) => index + 1)
  const players = show.players.map((player) =>
    take.wholeTracks.has(player.id) ? { ...player, input: { ...player.input, channels: every } } : player,
  )
  return { ...show, players }
}
