import type { Show } from '../../src/domain/show.ts'
import { writeMidiFile } from '../../src/midi/file-write.ts'
import { countTake } from '../../src/offline/gig-check/count-take.ts'
import { gigCheck } from '../../src/offline/gig-check/gig-check.ts'
import type { GigCheck } from '../../src/offline/gig-check/gig-check.ts'
import type { TakeResult } from '../../src/offline/gig-check/take-result.ts'

/** Key, and when it goes down and up, in milliseconds. */
export type TakeNote = readonly [key: number, onMs: number, offMs: number]

/** A take as a file: a track for each player that plays in it. */
export function takeFile(tracks: Readonly<Record<string, readonly TakeNote[]>>, channel = 1): Uint8Array {
  const ends = Object.values(tracks).flatMap((notes) => notes.map(([, , off]) => off))
  return writeMidiFile({
    division: 480,
    tempo: 120,
    timeSignature: { beats: 4, unit: 4 },
    endsAt: 1000 * Math.max(1, ...ends),
    tracks: Object.entries(tracks).map(([name, notes]) => ({
      name,
      events: notes
        .flatMap(([key, on, off]) => [
          { at: on * 1000, message: { type: 'note-on', channel, key, velocity: 90 } as const },
          { at: off * 1000, message: { type: 'note-off', channel, key, velocity: 0 } as const },
        ])
        .sort((a, b) => a.at - b.at),
    })),
  })
}

/** Struck so often a second for so many seconds, each as long as the dark between. */
export function strummed(key: number, perSecond: number, seconds: number): TakeNote[] {
  const step = 1000 / perSecond
  return Array.from({ length: Math.round(perSecond * seconds) }, (_, index) => [
    key,
    Math.round(index * step),
    Math.round((index + 0.5) * step),
  ])
}

/** All pieces of it. */
export function counted(show: Show, songId: string, take: string, bytes: Uint8Array): TakeResult {
  const song = show.songs.find(({ id }) => id === songId)
  if (!song) throw new Error(`no song ${songId}`)
  const pieces = countTake(show, song, take, bytes)
  for (;;) {
    const { done, value } = pieces.next()
    if (done === true) return value
  }
}

/** A gig checked by takes: for each song those files. */
export function checkedGig(show: Show, takes: Readonly<Record<string, readonly Uint8Array[]>>): GigCheck {
  const results = Object.entries(takes).flatMap(([song, files]) =>
    files.map((bytes, index) => counted(show, song, `${song}-${index + 1}.mid`, bytes)),
  )
  return gigCheck(show, results)
}
