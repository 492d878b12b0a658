import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { writeMidiFile } from '../../../src/midi/file-write.ts'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import { render } from '../../../src/offline/render.ts'
import { routeTake } from '../../../src/offline/take.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const SHOW = validShow(
  glasshouse({
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
      outputs: [
        { id: 'wire', kind: 'serial', port: 'virtual' },
        { id: 'choir', kind: 'midi', port: 'Choir', layout: 'mpe', mts: { form: 'keys', program: 6 } },
      ],
      lamps: [{ id: 'fern', output: 'wire', slot: 0, supply: 'bench', watts: 10 }],
    },
    tunings: [EVEN, { id: 'shore', kind: 'received', player: 'keys', base: 'even' }],
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        tuning: 'shore',
        parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
      },
    ],
  } as never),
)
const DATA = encodeMts({
  kind: 'keys',
  device: 127,
  realTime: true,
  program: 0,
  changes: [{ key: 69, word: 69.25 * 16384 }],
})
const PLAYED: readonly { at: number; message: MidiMessage }[] = [
  { at: 100_000, message: { type: 'note-on', channel: 1, key: 69, velocity: 90 } },
  { at: 1_000_000, message: { type: 'sysex', data: DATA } },
  { at: 1_500_000, message: { type: 'note-off', channel: 1, key: 69, velocity: 64 } },
]

function rendered(name: string) {
  const tracks = [{ name, events: PLAYED }]
  const timeSignature = { beats: 4, unit: 4 }
  const file = readMidiFile(
    writeMidiFile({ division: 960, tempo: 120, timeSignature, tracks, endsAt: 2_000_000 }),
  )
  if (!file.ok) throw new Error(file.error.what)
  const routed = routeTake(file.file, SHOW)
  if (!routed.ok) throw new Error(routed.what)
  const lines: { t: number; hz: number }[] = []
  const made = render(SHOW, 'tide', routed.take, { lamp: (line) => lines.push(JSON.parse(line)) })
  return { lines: lines.map(({ t, hz }) => [t, hz]), choir: made.midi.get('choir') ?? new Uint8Array() }
}

test.each(['keys', 'some track'])(
  'a take that tunes what it plays, in a track called "%s": heard in the lamps, told in the output’s file',
  (name) => {
    const { lines, choir } = rendered(name)
    expect(lines).toEqual([
      [0.1, 440],
      [1, expect.closeTo(midiKeyToHz(69.25), 5)],
      [1.5, undefined],
    ])
    const file = readMidiFile(choir)
    if (!file.ok) throw new Error(file.error.what)
    const told = file.file.tracks.flatMap(({ events }) =>
      events.flatMap(({ at, message }) =>
        message.type === 'sysex' ? [{ at: Math.round(at / 1000), data: message.data }] : [],
      ),
    )
    // Sixteen pieces, each 25.6 ms after the last (40 bytes at 31,250 baud, and as long a rest); then the one with key 69.
    expect(told.slice(0, 16).map(({ at }) => at)).toEqual(
      Array.from({ length: 16 }, (_, piece) => Math.round(piece * 25.6)),
    )
    expect(told.slice(16)).toEqual([{ at: 1000, data: expect.arrayContaining([69, 69, 0x20, 0]) }])
  },
)
