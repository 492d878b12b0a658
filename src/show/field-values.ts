import { z } from 'zod'
import { NOTE_VALUE_TEXT } from '../domain/note-value.ts'

// Ids name files (`wire.bin`) and stand in commands, so they hold nothing that a path or a shell would read.
export const ID = /^[\p{L}\p{M}\p{N}_-]+$/u

export const id = z.string().regex(ID, 'an id of letters, digits, "-" and "_"').max(64)
/** An id of something listed elsewhere in the show; that it is there is checked with the references. */
export const reference = z.string()
/** Text that a person reads or a port is called by. */
export const label = z.string().min(1).max(200)
/** MIDI 1.0: channels are 1 to 16 to people. */
export const channel = z.int().min(1).max(16)
export const key = z.int().min(0).max(127)
/** MIDI 1.0: 120 to 127 are channel mode messages, not controllers. */
export const controller = z.int().min(0).max(119)
/** A fraction of a whole note. */
export const noteValue = z
  .string()
  .regex(NOTE_VALUE_TEXT, 'a note value such as "1/16"')
  .meta({ format: 'note-value' })
export const duty = z.number().min(0).max(1)
/** Semitones each way for a full bend; 96 is the most that the MPE specification allows. */
export const bendRange = z.number().min(0).max(96)

/** Milliseconds from 0 to `most`. */
export function milliseconds(most: number) {
  return z.number().min(0).max(most)
}

/** More than nothing, up to `most`. */
export function positive(most: number) {
  return z.number().gt(0).max(most)
}
