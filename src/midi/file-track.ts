import type { MidiMessage } from '../domain/midi-message.ts'
import type { Micros } from '../domain/units.ts'
import { readMeta, type Meta } from './file-meta.ts'
import { PacketReader } from './file-packets.ts'
import { hexByte } from './malformed.ts'
import { dataBytesOf, messageOfBytes } from './message-of-bytes.ts'
import { readQuantity } from './variable-length.ts'
import type { WarningList } from './warning-list.ts'

/** A track before its ticks have become times. */
export interface RawTrack {
  name: string
  readonly events: { readonly tick: number; readonly message: MidiMessage }[]
  readonly tempos: { readonly tick: number; readonly microsPerBeat: Micros }[]
  readonly timeSignatures: { readonly tick: number; readonly beats: number; readonly unit: number }[]
  endTick: number
  /** Where reading stopped: after the end-of-track event if `ended`. */
  stoppedAt: number
  ended: boolean
}

/**
 * Reads the events of one track from byte `start` to `end` at most. Never throws: what cannot be read is left out with a
 * warning under track number `number`. Standard MIDI Files 1.0, "Track Chunks".
 */
export function readTrack(
  bytes: Uint8Array,
  start: number,
  end: number,
  number: number,
  warnings: WarningList,
): RawTrack {
  return new TrackReader(bytes, start, end, number, warnings).read()
}

class TrackReader {
  private readonly bytes: Uint8Array
  private readonly end: number
  private readonly number: number
  private readonly warnings: WarningList
  private readonly packets = new PacketReader()
  private readonly track: RawTrack
  private at: number
  private tick = 0
  private running = 0
  /** A meta or system exclusive event came since: the standard ends running status there, many files go on. */
  private interrupted = false

  constructor(bytes: Uint8Array, start: number, end: number, number: number, warnings: WarningList) {
    this.bytes = bytes
    this.end = end
    this.number = number
    this.warnings = warnings
    this.at = start
    this.track = {
      name: '',
      events: [],
      tempos: [],
      timeSignatures: [],
      endTick: 0,
      stoppedAt: 0,
      ended: false,
    }
  }

  read(): RawTrack {
    const track = this.track
    let goesOn = true
    while (goesOn && !track.ended && this.at < this.end) goesOn = this.readEvent()
    if (this.packets.interrupt()) this.warnOpenSysex()
    if (goesOn && !track.ended) {
      this.warn(this.at, 'the track has no end-of-track event', 'it ends with its last event')
    }
    track.endTick = this.tick
    track.stoppedAt = this.at
    return track
  }

  /** False: the track cannot be read further. */
  private readEvent(): boolean {
    const eventAt = this.at
    const delta = readQuantity(this.bytes, this.at, this.end)
    this.at = delta.next
    if (delta.cut || this.at >= this.end) return this.stop(eventAt)
    if (delta.value < 0) {
      this.warn(eventAt, 'a delta time over 0FFFFFFF', 'the event was put at the time of the one before')
    } else this.tick = Math.min(Number.MAX_SAFE_INTEGER, this.tick + delta.value)
    this.skipStray()
    if (this.at >= this.end) return this.stop(eventAt)
    const byte = this.bytes[this.at] as number
    if (byte === 0xff) return this.readMetaEvent(eventAt)
    if (byte === 0xf0 || byte === 0xf7) return this.readPacket(eventAt, byte)
    return this.readMessage(eventAt, byte)
  }

  private skipStray(): void {
    if (this.running !== 0) return
    const from = this.at
    while (this.at < this.end && (this.bytes[this.at] as number) < 0x80) this.at++
    if (this.at > from) {
      this.warn(
        from,
        'data without a status byte before it',
        `${this.at - from} byte(s) were skipped`,
        'stray',
      )
    }
  }

  private readMessage(eventAt: number, byte: number): boolean {
    let status = byte
    if (byte >= 0x80) this.at++
    else {
      status = this.running
      if (this.interrupted) {
        this.warn(
          eventAt,
          'running status goes on after a meta or system exclusive event, where the standard ends it',
          'the status before that event was used',
        )
      }
    }
    this.interrupted = false
    const needed = dataBytesOf(status)
    if (status < 0xf0) this.running = status
    else {
      this.warn(
        eventAt,
        `status ${hexByte(status)} may not stand in a file as it is`,
        needed < 0 ? 'it was left out' : 'it was kept as a message',
      )
    }
    if (this.packets.interrupt()) this.warnOpenSysex()
    if (this.at + needed > this.end) return this.stop(eventAt)
    const first = this.bytes[this.at] as number
    const second = this.bytes[this.at + 1] as number
    this.at += Math.max(0, needed)
    if (needed < 0) return true
    if ((needed > 0 && first > 0x7f) || (needed > 1 && second > 0x7f)) {
      this.warn(eventAt, 'a message with a data byte over 7F', 'the message was left out')
      return true
    }
    this.track.events.push({ tick: this.tick, message: messageOfBytes(status, first, second) })
    return true
  }

  private readPacket(eventAt: number, marker: number): boolean {
    this.at++
    if (marker === 0xf0 && this.packets.interrupt()) this.warnOpenSysex()
    const data = this.readData()
    if (data === undefined) return this.stop(eventAt)
    this.interrupted = true
    const complain = (what: string): void => this.warn(eventAt, what, 'the rest of its packet was kept')
    for (const message of this.packets.read(marker, data, complain)) {
      this.track.events.push({ tick: this.tick, message })
    }
    return true
  }

  private readMetaEvent(eventAt: number): boolean {
    this.at++
    const type = this.bytes[this.at]
    if (type === undefined || this.at >= this.end) return this.stop(eventAt)
    this.at++
    const data = this.readData()
    if (data === undefined) return this.stop(eventAt)
    this.interrupted = true
    this.takeMeta(readMeta(type, data), eventAt)
    return true
  }

  private takeMeta(meta: Meta, eventAt: number): void {
    const { tick, track } = this
    if (meta.kind === 'end') track.ended = true
    else if (meta.kind === 'name') track.name ||= meta.name
    else if (meta.kind === 'tempo') track.tempos.push({ tick, microsPerBeat: meta.microsPerBeat })
    else if (meta.kind === 'time-signature') {
      track.timeSignatures.push({ tick, beats: meta.beats, unit: meta.unit })
    } else if (meta.kind === 'faulty') this.warn(eventAt, meta.what, 'it was ignored')
  }

  /** A length and so many bytes; undefined where they are not all there. */
  private readData(): Uint8Array | undefined {
    const length = readQuantity(this.bytes, this.at, this.end)
    this.at = length.next
    if (length.value < 0 || this.at + length.value > this.end) return undefined
    const data = this.bytes.subarray(this.at, this.at + length.value)
    this.at += length.value
    return data
  }

  private stop(eventAt: number): false {
    this.warn(
      eventAt,
      'the track breaks off inside an event, or the event claims more bytes than there are',
      `the ${this.track.events.length} message(s) before it were kept, this event and what follows in the track were not`,
      'stop',
    )
    return false
  }

  private warnOpenSysex(): void {
    this.warn(this.at, 'a system exclusive without its end (F7)', 'it was dropped whole')
  }

  private warn(offset: number, what: string, done: string, key?: string): void {
    this.warnings.add(this.number, offset, what, done, key)
  }
}
