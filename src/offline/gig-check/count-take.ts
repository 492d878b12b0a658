import type { PlayerId } from '../../domain/ids.ts'
import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import { readMidiFile } from '../../midi/file-read.ts'
import { describeFileError, describeWarning } from '../../midi/file-words.ts'
import { counted, listed } from '../check/listed.ts'
import { renderInPieces } from '../render.ts'
import type { Take } from '../take.ts'
import { routeTake } from '../take.ts'
import type { TakeResult } from './take-result.ts'

/**
 * Plays a take of a song offline, without its sound, and counts; in pieces of a few milliseconds, yielding how much of it is done, 0 to 1. `bytes`: of a Standard
 * MIDI File. Whatever is wrong with it is the result, never thrown.
 */
export function* countTake(
  show: Show,
  song: Song,
  take: string,
  bytes: Uint8Array,
): Generator<number, TakeResult, void> {
  const failed = (why: string): TakeResult => ({ ok: false, song: song.id, take, why })
  try {
    const read = readMidiFile(bytes)
    if (!read.ok) return failed(describeFileError(read.error))
    const routed = routeTake(read.file, show)
    if (!routed.ok) return failed(`${routed.what}; ${routed.todo}`)
    const why = whyNothing(show, routed.take)
    if (why !== undefined) return failed(why)
    const { report, dropped } = yield* renderInPieces(show, song.id, routed.take)
    const torn = read.file.warnings.map(describeWarning)
    return { ok: true, song: song.id, take, report, dropped, torn, strangers: strangers(song, routed.take) }
  } catch (error) {
    // Nothing that a file has in it may keep the others from being counted.
    return failed(`it could not be played: ${error instanceof Error ? error.message : String(error)}`)
  }
}

/** Why a take has nothing to count; undefined: it has. */
function whyNothing(show: Show, { events, notesIn }: Take): string | undefined {
  if (notesIn === 0) return 'there is no note in it; record or export it again'
  if (events.some(({ message }) => message.type === 'note-on')) return undefined
  const players = show.players.map(({ id }) => id)
  return `none of its ${counted(notesIn, 'note')} feeds a player of this show; call its tracks ${listed(players)}, or play it on their channels`
}

function strangers(song: Song, { events }: Take): { player: PlayerId; notes: number }[] {
  const band = new Set(song.parts.map(({ player }) => player))
  const notes = new Map<PlayerId, number>()
  for (const { player, message } of events)
    if (message.type === 'note-on' && !band.has(player)) notes.set(player, (notes.get(player) ?? 0) + 1)
  return [...notes].map(([player, count]) => ({ player, notes: count }))
}
