import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Player } from '../../src/domain/player.ts'
import type { Malformed } from '../../src/midi/malformed.ts'
import { hexByte } from '../../src/midi/malformed.ts'
import { playedKeyName } from '../../src/offline/check/key-spans.ts'

/** More bytes than these are not written out. */
const MOST_BYTES = 32

/** A message for a person: what it is, its numbers, its channel. `player`: whose it is, so that pads are called by their names. */
export function messageWords(message: MidiMessage | Malformed, player?: Player): string {
  const words = bare(message, player)
  return 'channel' in message ? `${words}, channel ${message.channel}` : words
}

function bare(message: MidiMessage | Malformed, player: Player | undefined): string {
  switch (message.type) {
    case 'malformed':
      return `no message: ${message.why} (${message.count} ${message.count === 1 ? 'byte' : 'bytes'} lost)`
    case 'note-on':
    case 'note-off':
      return `${message.type} ${playedKeyName(player, message.key)} velocity ${message.velocity}`
    case 'key-pressure':
      return `key pressure ${playedKeyName(player, message.key)} ${message.value}`
    case 'controller':
      return `controller ${message.controller} value ${message.value}`
    case 'program':
      return `program ${message.program}`
    case 'channel-pressure':
      return `channel pressure ${message.value}`
    case 'bend':
      return `bend ${signed(message.value - 8192)}`
    case 'parameter':
      return `${message.registered ? 'registered' : 'non-registered'} parameter ${message.parameter} value ${message.value}`
    case 'sysex':
      return `system exclusive, ${message.data.length + 2} bytes`
    case 'quarter-frame':
      return `quarter frame ${message.value}`
    case 'song-position':
      return `song position ${message.position}`
    case 'song-select':
      return `song select ${message.song}`
    case 'tune-request':
      return 'tune request'
    case 'active-sensing':
      return 'active sensing'
    case 'clock':
    case 'start':
    case 'continue':
    case 'stop':
    case 'reset':
      return message.type
  }
}

/** "90 40 5A"; of long ones the first, and how many more. */
export function byteWords(bytes: Uint8Array | readonly number[]): string {
  const shown = Array.from(bytes.slice(0, MOST_BYTES), hexByte).join(' ')
  const more = bytes.length - MOST_BYTES
  return more > 0 ? `${shown} and ${more} more` : shown
}

function signed(value: number): string {
  return value > 0 ? `+${value}` : `${value}`
}
