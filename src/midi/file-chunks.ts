import { isAt, word32 } from './file-bounds.ts'
import { chunkName } from './file-header.ts'
import { readTrack, type RawTrack } from './file-track.ts'
import type { WarningList } from './warning-list.ts'

const TRACK = 'MTrk'

/**
 * Reads every track chunk from byte `start` to `end`. Chunks of other kinds are skipped, as the standard asks. Lengths
 * are believed only where a chunk, or the end, follows; else a track is read up to the next "MTrk". No byte is read
 * twice, so any file takes time in proportion to its size.
 */
export function readTracks(bytes: Uint8Array, start: number, end: number, warnings: WarningList): RawTrack[] {
  const tracks: RawTrack[] = []
  for (let at = start; at < end;) {
    if (isAt(bytes, at, TRACK) && at + 8 <= end) {
      const { track, next } = readTrackChunk(bytes, at, end, tracks.length + 1, warnings)
      tracks.push(track)
      at = next
    } else if (isForeignChunk(bytes, at, end)) at += 8 + word32(bytes, at + 4)
    else {
      const next = find(bytes, TRACK, at + 1, end)
      const what = `${next - at} byte(s) that belong to no chunk ("${chunkName(bytes, at)}")`
      warnings.add(0, at, what, 'they were skipped', 'no chunk')
      at = next
    }
  }
  return tracks
}

function readTrackChunk(
  bytes: Uint8Array,
  at: number,
  end: number,
  number: number,
  warnings: WarningList,
): { readonly track: RawTrack; readonly next: number } {
  const start = at + 8
  const length = word32(bytes, at + 4)
  const claimed = start + length
  const believed = claimed === end || (claimed < end && startsChunk(bytes, claimed, end))
  const limit = believed ? claimed : find(bytes, TRACK, start, end)
  const track = readTrack(bytes, start, limit, number, warnings)
  const stopped = track.stoppedAt
  if (track.ended && stopped === claimed) return { track, next: stopped }
  const lie = `the track says it is ${length} bytes long`
  if (!believed) {
    const done = track.ended ? 'it was read to its end-of-track event' : 'what is there was read'
    const there = claimed > end ? `but only ${end - start} follow` : 'but no chunk follows there'
    warnings.add(number, at + 4, `${lie}, ${there}`, done, 'length')
    return { track, next: track.ended ? stopped : limit }
  }
  if (track.ended && isAt(bytes, stopped, TRACK)) {
    const what = `${lie}, but the next track begins ${stopped - start} bytes in`
    warnings.add(number, at + 4, what, 'the next track was read from there', 'length')
    return { track, next: stopped }
  }
  if (track.ended) {
    const what = `${claimed - stopped} byte(s) after the end-of-track event`
    warnings.add(number, stopped, what, 'they were ignored', 'after end')
  }
  return { track, next: claimed }
}

function startsChunk(bytes: Uint8Array, at: number, end: number): boolean {
  return isAt(bytes, at, TRACK) || isForeignChunk(bytes, at, end)
}

/** A name of four plain characters and a length that stays within the file. */
function isForeignChunk(bytes: Uint8Array, at: number, end: number): boolean {
  return (
    at + 8 <= end && /^[A-Za-z0-9 ]{4}$/.test(chunkName(bytes, at)) && at + 8 + word32(bytes, at + 4) <= end
  )
}

/** Where `id` next stands whole before `end`; else `end`. */
function find(bytes: Uint8Array, id: string, from: number, end: number): number {
  for (let at = bytes.indexOf(id.charCodeAt(0), from); at >= 0;) {
    if (at + id.length > end) return end
    if (isAt(bytes, at, id)) return at
    at = bytes.indexOf(id.charCodeAt(0), at + 1)
  }
  return end
}
