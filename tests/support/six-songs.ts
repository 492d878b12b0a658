import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Key, Micros } from '../../src/domain/units.ts'
import { writeMidiFile } from '../../src/midi/file-write.ts'
import type { Json, RawShow } from './shows.ts'

/** The pedal that goes on to the next song: general purpose controller 5. */
export const PEDAL = 80
const CHANNEL = 1
const LAMPS = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm']

interface GigSong {
  readonly id: string
  readonly title: string
  readonly tempo: number
  readonly enter: 'cut' | 'carry'
  /** Left out: as the show says, at once. */
  readonly enterAt?: 'beat' | 'bar' | 'release'
}

/** In the order of the set list; each way of entering, and each moment to enter at, has its turn. */
const SONGS: readonly GigSong[] = [
  { id: 'dew', title: 'Dew on the panes', tempo: 120, enter: 'cut' },
  { id: 'mist', title: 'Mist clock', tempo: 150, enter: 'cut' },
  { id: 'growth', title: 'Slow growth', tempo: 97.0625, enter: 'cut', enterAt: 'bar' },
  { id: 'rain', title: 'Rain on the roof', tempo: 132, enter: 'cut', enterAt: 'beat' },
  { id: 'frost', title: 'Frost flowers', tempo: 82.5, enter: 'cut', enterAt: 'release' },
  { id: 'thaw', title: 'Thaw', tempo: 101, enter: 'carry' },
]

/**
 * A gig of six songs for one keyboard and six lamps, as it would stand in a file. In song n the first lamp of the only part is lamp n of the rig, and a note
 * that is played alone lights it. `input`: the keyboard's port; `output`: the lamp box, a virtual one where left out.
 */
export function gigShow({ input = 'Keybed', output }: { input?: string; output?: RawShow } = {}): RawShow {
  return {
    format: 'lanthorn-show',
    version: 1,
    title: 'Six songs in the glasshouse',
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 8 }],
      outputs: [output ?? { id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps: LAMPS.map((id, slot) => ({
        id,
        output: typeof output?.['id'] === 'string' ? output['id'] : 'wire',
        slot,
        supply: 'bench',
        watts: 10,
      })),
    },
    players: [{ id: 'keys', name: 'Keys', kind: 'keys', input: { port: input, channels: [CHANNEL] } }],
    songs: SONGS.map((song, place): Json => ({
      ...song,
      minutes: 4 + place / 2,
      notes: `Three notes, then the pedal.`,
      parts: [
        {
          id: 'lead',
          player: 'keys',
          lamps: [...LAMPS.slice(place), ...LAMPS.slice(0, place)],
          strategy: { kind: 'lowest-free' },
        },
      ],
    })),
    switching: {
      controls: [
        { player: 'keys', on: { kind: 'controller', controller: PEDAL }, do: 'next' },
        { player: 'keys', on: { kind: 'program' }, do: 'number' },
      ],
    },
  }
}

/** The same, as the text of a show file. */
export function showText(options: Parameters<typeof gigShow>[0] = {}): string {
  return `${JSON.stringify(gigShow(options), null, 2)}\n`
}

/** A note of the take, in milliseconds from its start. */
export interface GigNote {
  readonly onMs: number
  readonly offMs: number
  readonly key: Key
  /** The song that it is struck in. */
  readonly song: string
  /** The lamp that it lights there. */
  readonly lamp: string
}

/** A phrase in each song. The last note of the fourth holds the fifth off; that of the fifth is carried into the sixth. */
const PHRASES: readonly (readonly (readonly [onMs: number, offMs: number, key: Key])[])[] = [
  [200, 500, 800].map((at, index) => [at, at + 250, 60 + 2 * index]),
  [1700, 2000, 2300].map((at, index) => [at, at + 250, 62 + 3 * index]),
  [3300, 3600, 3900].map((at, index) => [at, at + 250, 57 + 4 * index]),
  [
    [5200, 5450, 65],
    [5500, 5750, 67],
    [5800, 6900, 69],
  ],
  [
    [7100, 7350, 64],
    [7400, 7650, 62],
    [7700, 8900, 60],
  ],
  [9100, 9400, 9700].map((at, index) => [at, at + 250, 72 - index]),
]

/** When the pedal goes down; up again 100 ms later. */
const PRESSED_MS = [1500, 2700, 4500, 6500, 8300]
const ENDS_MS = 10_500

export function gigNotes(): readonly GigNote[] {
  return PHRASES.flatMap((phrase, place) =>
    phrase.map(([onMs, offMs, key]) => ({
      onMs,
      offMs,
      key,
      song: SONGS[place]?.id ?? '',
      lamp: LAMPS[place] ?? '',
    })),
  )
}

/** The take as a Standard MIDI File with one track, `keys`: every time is a whole tick, so nothing is rounded. */
export function takeBytes(): Uint8Array {
  const at = (ms: number, message: MidiMessage) => ({ at: ms * 1000, message })
  const notes = gigNotes().flatMap(({ onMs, offMs, key }) => [
    at(onMs, { type: 'note-on', channel: CHANNEL, key, velocity: 90 }),
    at(offMs, { type: 'note-off', channel: CHANNEL, key, velocity: 64 }),
  ])
  const pedal = PRESSED_MS.flatMap((ms) => [
    at(ms, { type: 'controller', channel: CHANNEL, controller: PEDAL, value: 127 }),
    at(ms + 100, { type: 'controller', channel: CHANNEL, controller: PEDAL, value: 0 }),
  ])
  // 500 ticks a beat of half a second: a tick is a millisecond.
  return writeMidiFile({
    division: 500,
    tempo: 120,
    tracks: [{ name: 'keys', events: [...notes, ...pedal] }],
    endsAt: ENDS_MS * 1000,
  })
}

/** When each song begins, counted from the take's start, the first one with it. Worked out by hand from what each song says, with no help of the engine. */
export function songsExpected(): readonly { readonly atMicros: Micros; readonly song: string }[] {
  const mist = 1_500_000
  // Four beats of 60/150 s from where mist began, after 2.7 s.
  const growth = mist + 1_600_000
  // The third beat of 60/97.0625 s from where growth began is the first after 4.5 s.
  const rain = growth + Math.round((3 * 60_000_000) / 97.0625)
  // Its last note ends.
  const frost = 6_900_000
  const thaw = 8_300_000
  return [0, mist, growth, rain, frost, thaw].map((atMicros, place) => ({
    atMicros,
    song: SONGS[place]?.id ?? '',
  }))
}
