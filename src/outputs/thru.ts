import type { MidiMessage } from '../domain/midi-message.ts'
import type { Thru, ThruKind } from '../domain/song.ts'

/** What of a message goes on to a MIDI output, renumbered to the thru's channel; undefined for what does not pass. */
export function thruMessage(thru: Thru, message: MidiMessage): MidiMessage | undefined {
  const kind = kindOf(message)
  if (kind === undefined || !thru.pass.includes(kind)) return undefined
  return thru.channel !== undefined && 'channel' in message ? { ...message, channel: thru.channel } : message
}

function kindOf(message: MidiMessage): ThruKind | undefined {
  switch (message.type) {
    case 'controller':
      return 'controllers'
    case 'bend':
      return 'bend'
    case 'note-on':
    case 'note-off':
      return 'notes'
    case 'clock':
    case 'start':
    case 'continue':
    case 'stop':
    case 'song-position':
      return 'clock'
    default:
      // A parameter is passed as the controllers it was made of.
      return undefined
  }
}
