import type { MidiMessage } from '../domain/midi-message.ts'
import type { Bpm, Micros } from '../domain/units.ts'
import { encode } from './encode.ts'
import { addScaled, roundExact } from './exact-scale.ts'
import { DEFAULT_MICROS_PER_BEAT } from './file-time.ts'
import { bytesOfText } from './text-bytes.ts'
import { MAX_QUANTITY, quantityBytes } from './variable-length.ts'

/** What to write. Times are from the start of the file. */
export interface MidiFileContent {
  /** Ticks a beat, 1..32767. */
  readonly division: number
  /** Beats a minute, 3.58..60,000,000; 120 if absent. Written as whole microseconds a beat, as the file has it. */
  readonly tempo?: Bpm | undefined
  /** Beats a bar, and the note that is a beat: a power of two. */
  readonly timeSignature?: { readonly beats: number; readonly unit: number } | undefined
  readonly tracks: readonly {
    readonly name: string
    readonly events: readonly { readonly at: Micros; readonly message: MidiMessage }[]
  }[]
  /** When the tracks end; their last event where that is later. */
  readonly endsAt?: Micros | undefined
}

/**
 * A Standard MIDI File 1.0: format 0 for one track, else 1. Every event's tick is computed from its absolute time and
 * the whole microseconds a beat written, so no error adds up; it lies within half a tick. Events are put in order of
 * time, those of one time stay in the order given. No running status. Throws a RangeError that names the field.
 */
export function writeMidiFile(content: MidiFileContent): Uint8Array {
  const { division, tracks } = content
  bounded('division', division, 1, 0x7fff)
  bounded('number of tracks', tracks.length, 1, 0xffff)
  const tempo = content.tempo === undefined ? DEFAULT_MICROS_PER_BEAT : Math.round(60_000_000 / content.tempo)
  bounded('microseconds a beat (60,000,000 / tempo)', tempo, 1, 0xffffff)
  const tickOf = (at: Micros, field: string): number => {
    bounded(field, at, 0, Number.MAX_SAFE_INTEGER)
    return roundExact(addScaled({ whole: 0, rest: 0 }, at, division, tempo), tempo)
  }
  const endTick = tickOf(content.endsAt ?? 0, 'endsAt')

  const file: number[] = []
  const format = tracks.length === 1 ? 0 : 1
  pushChunk(file, 'MThd', [0, format, ...word(tracks.length), ...word(division)])
  tracks.forEach((track, index) => {
    const body: number[] = []
    let tick = 0
    const moveTo = (target: number): void => {
      let delta = target - tick
      // The quantity for a delta time ends at 0FFFFFFF; empty texts bridge a longer silence.
      for (; delta > MAX_QUANTITY; delta -= MAX_QUANTITY) {
        pushAll(body, quantityBytes(MAX_QUANTITY))
        pushMeta(body, 0x01, [])
      }
      pushAll(body, quantityBytes(delta))
      tick = target
    }
    const meta = (type: number, data: readonly number[]): void => {
      moveTo(tick)
      pushMeta(body, type, data)
    }
    if (track.name !== '') meta(0x03, bytesOfText(track.name))
    if (index === 0) {
      meta(0x51, [tempo >> 16, (tempo >> 8) & 0xff, tempo & 0xff])
      if (content.timeSignature !== undefined) meta(0x58, signatureData(content.timeSignature))
    }
    const events = track.events.toSorted((a, b) => a.at - b.at)
    for (const event of events) {
      const target = tickOf(event.at, `time of an event of track ${index + 1}`)
      for (const bytes of fileEvents(event.message)) {
        moveTo(target)
        pushAll(body, bytes)
      }
    }
    moveTo(Math.max(tick, endTick))
    pushMeta(body, 0x2f, [])
    pushChunk(file, 'MTrk', body)
  })
  return Uint8Array.from(file)
}

/** A message as events of a file: channel messages as they are, system exclusive as F0, other system messages escaped by F7. */
function fileEvents(message: MidiMessage): number[][] {
  const bytes = encode(message)
  if (message.type === 'sysex') return [[0xf0, ...quantityBytes(bytes.length - 1), ...bytes.slice(1)]]
  if ((bytes[0] as number) >= 0xf0) return [[0xf7, ...quantityBytes(bytes.length), ...bytes]]
  if (message.type !== 'parameter') return [bytes]
  return Array.from({ length: bytes.length / 3 }, (_, i) => bytes.slice(i * 3, i * 3 + 3))
}

/** The last two are the standard's usual ones: a click each 24 clocks, eight 32nds a quarter. */
function signatureData({ beats, unit }: { readonly beats: number; readonly unit: number }): number[] {
  bounded('timeSignature.beats', beats, 1, 255)
  const power = Math.log2(unit)
  if (!Number.isInteger(power) || power < 0 || power > 10) {
    throw new RangeError(`timeSignature.unit must be a power of two from 1 to 1024, but is ${unit}`)
  }
  return [beats, power, 24, 8]
}

function bounded(field: string, value: number, least: number, most: number): void {
  if (Number.isInteger(value) && value >= least && value <= most) return
  throw new RangeError(`${field} must be a whole number from ${least} to ${most}, but is ${value}`)
}

function word(value: number): [number, number] {
  return [value >> 8, value & 0xff]
}

function pushMeta(to: number[], type: number, data: readonly number[]): void {
  to.push(0xff, type)
  pushAll(to, quantityBytes(data.length))
  pushAll(to, data)
}

function pushChunk(to: number[], id: string, data: readonly number[]): void {
  for (const character of id) to.push(character.charCodeAt(0))
  const length = data.length
  to.push(length >>> 24, (length >> 16) & 0xff, (length >> 8) & 0xff, length & 0xff)
  pushAll(to, data)
}

/** Not by spreading: a call takes only so many arguments, and a track is long. */
function pushAll(to: number[], bytes: readonly number[]): void {
  for (const byte of bytes) to.push(byte)
}
