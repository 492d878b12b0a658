import { writeMidiFile } from '../../src/midi/file-write.ts'
import { playBass } from './glasshouse-bass.ts'
import { playKeys } from './glasshouse-keys.ts'
import { playPads } from './glasshouse-pads.ts'
import { TakeSheet } from './take-sheet.ts'

const TEMPO = 97.0625
const BEATS = 112

/** The demo's take, made here and nowhere recorded: 28 bars of a trio as a Standard MIDI File, a track a player. Always the same bytes. */
export function glasshouseTake(): Uint8Array {
  const tracks = [
    { name: 'keys', play: playKeys, seed: 11 },
    { name: 'pads', play: playPads, seed: 23 },
    { name: 'bass', play: playBass, seed: 47 },
  ].map(({ name, play, seed }) => {
    const sheet = new TakeSheet(TEMPO, seed)
    play(sheet)
    return { name, events: sheet.events }
  })
  return writeMidiFile({
    division: 1920,
    tempo: TEMPO,
    timeSignature: { beats: 4, unit: 4 },
    tracks,
    endsAt: Math.round((BEATS * 60_000_000) / TEMPO),
  })
}
