import type { MidiMessage } from '../domain/midi-message.ts'
import type { Micros } from '../domain/units.ts'

/** What a tick is. `beats`: so many a quarter note; `frames`: so many a SMPTE frame, whatever the tempo. */
export type Division =
  | { readonly kind: 'beats'; readonly ticksPerBeat: number }
  /** 29 is the drop-frame rate, 30000/1001 frames a second. */
  | { readonly kind: 'frames'; readonly framesPerSecond: number; readonly ticksPerFrame: number }

/** Ticks and times count from the start of the file; in format 2 ticks count from the start of the pattern. */
export interface FileEvent {
  readonly at: Micros
  readonly tick: number
  readonly message: MidiMessage
}

export interface FileTrack {
  /** Empty when the track has none. */
  readonly name: string
  readonly events: readonly FileEvent[]
}

export interface TempoChange {
  readonly at: Micros
  readonly tick: number
  /** From 1; which track it stands in. */
  readonly track: number
  readonly microsPerBeat: Micros
}

export interface TimeSignature {
  readonly at: Micros
  readonly tick: number
  readonly track: number
  /** Beats a bar, and the note that is a beat: 4 a quarter, 8 an eighth. */
  readonly beats: number
  readonly unit: number
}

/** Something wrong with a file that could still be read. */
export interface FileWarning {
  /** From 1, in the order of the file; 0: not in a track. */
  readonly track: number
  /** Byte of the file, from 0, where it was first seen. */
  readonly offset: number
  readonly what: string
  readonly done: string
  /** How often it was seen in this track. */
  readonly times: number
}

/** Why a file cannot be read at all, where, and what to do. */
export interface FileError {
  readonly what: string
  readonly where: string
  readonly todo: string
}

/** A Standard MIDI File as absolute times. */
export interface MidiFile {
  readonly format: 0 | 1 | 2
  readonly division: Division
  readonly tracks: readonly FileTrack[]
  readonly tempos: readonly TempoChange[]
  readonly timeSignatures: readonly TimeSignature[]
  readonly warnings: readonly FileWarning[]
  /** The end of the longest track; in format 2 of the last pattern. */
  readonly endsAt: Micros
}

export type ReadResult =
  { readonly ok: true; readonly file: MidiFile } | { readonly ok: false; readonly error: FileError }
