import { MICROS_PER_SECOND, type Micros } from '../domain/units.ts'
import { findFile } from './file-bounds.ts'
import { readTracks } from './file-chunks.ts'
import { readHeader, type FileHeader } from './file-header.ts'
import { microsAtTick, tickClock, type TickClock } from './file-time.ts'
import type { RawTrack } from './file-track.ts'
import type { FileTrack, MidiFile, ReadResult, TempoChange, TimeSignature } from './file.ts'
import { WarningList } from './warning-list.ts'

const DAY: Micros = 24 * 3600 * MICROS_PER_SECOND

/**
 * Reads a Standard MIDI File 1.0 (formats 0, 1, 2; also wrapped in RIFF). Any bytes give a file with warnings or an
 * error, never a throw; memory stays in proportion to the bytes there, whatever lengths and counts they claim.
 */
export function readMidiFile(bytes: Uint8Array): ReadResult {
  const warnings = new WarningList()
  const bounds = findFile(bytes, warnings)
  if ('what' in bounds) return { ok: false, error: bounds }
  const header = readHeader(bytes, bounds, warnings)
  if ('what' in header) return { ok: false, error: header }
  const raw = readTracks(bytes, header.next, bounds.end, warnings)
  if (raw.length === 0) {
    return {
      ok: false,
      error: {
        what: `the file holds no track ("MTrk"), though its header counts ${header.trackCount}`,
        where: `byte ${header.next}`,
        todo: 'There is nothing to play: export or copy the take again.',
      },
    }
  }
  checkCount(header, raw.length, bounds.start + 10, warnings)
  const timed = header.format === 2 ? inTurn(header, raw) : together(header, raw)
  if (timed.endsAt > DAY) {
    const hours = Math.round(timed.endsAt / (DAY / 24))
    warnings.add(0, header.next, `the take lasts ${hours} hours: a delta time may be damaged`, 'it was kept')
  }
  return { ok: true, file: { ...timed, warnings: warnings.list() } }
}

function checkCount(header: FileHeader, found: number, at: number, warnings: WarningList): void {
  if (header.trackCount !== found) {
    warnings.add(
      0,
      at,
      `the header counts ${header.trackCount} track(s), the file has ${found}`,
      'all were read',
    )
  }
  if (header.format === 0 && found > 1) {
    warnings.add(
      0,
      at,
      `format 0 has one track, this file has ${found}`,
      'read as format 1: at the same time',
    )
  }
}

type Timed = Omit<MidiFile, 'warnings'>

/** Formats 0 and 1: tracks at the same time; a tempo on any of them holds for all. */
function together(header: FileHeader, raw: readonly RawTrack[]): Timed {
  const clock = tickClock(
    header.division,
    raw.flatMap((track) => track.tempos),
  )
  const format = raw.length > 1 ? 1 : header.format
  const endTick = raw.reduce((latest, track) => Math.max(latest, track.endTick), 0)
  return {
    format,
    division: header.division,
    tracks: raw.map((track) => timedTrack(track, clock)),
    tempos: byTick(raw.flatMap((track, i) => timedTempos(track, i + 1, clock))),
    timeSignatures: byTick(raw.flatMap((track, i) => timedSignatures(track, i + 1, clock))),
    endsAt: microsAtTick(clock, endTick),
  }
}

/** Format 2: each track is a pattern with its own tempo; they are played one after the other. */
function inTurn(header: FileHeader, raw: readonly RawTrack[]): Timed {
  const tracks: FileTrack[] = []
  const tempos: TempoChange[] = []
  const timeSignatures: TimeSignature[] = []
  let endsAt: Micros = 0
  for (const track of raw) {
    const clock = tickClock(header.division, track.tempos, endsAt)
    tracks.push(timedTrack(track, clock))
    for (const tempo of timedTempos(track, tracks.length, clock)) tempos.push(tempo)
    for (const signature of timedSignatures(track, tracks.length, clock)) timeSignatures.push(signature)
    endsAt = microsAtTick(clock, track.endTick)
  }
  return { format: 2, division: header.division, tracks, tempos, timeSignatures, endsAt }
}

function timedTrack(track: RawTrack, clock: TickClock): FileTrack {
  const events = track.events.map(({ tick, message }) => ({ at: microsAtTick(clock, tick), tick, message }))
  return { name: track.name, events }
}

function timedTempos(track: RawTrack, number: number, clock: TickClock): TempoChange[] {
  return track.tempos.map(({ tick, microsPerBeat }) => {
    return { at: microsAtTick(clock, tick), tick, track: number, microsPerBeat }
  })
}

function timedSignatures(track: RawTrack, number: number, clock: TickClock): TimeSignature[] {
  return track.timeSignatures.map(({ tick, beats, unit }) => {
    return { at: microsAtTick(clock, tick), tick, track: number, beats, unit }
  })
}

function byTick<T extends { readonly tick: number }>(changes: T[]): T[] {
  return changes.toSorted((a, b) => a.tick - b.tick)
}
