import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const NINETEEN = { ...EVEN, id: 'nineteen', steps: 19 }

const TWICE = 'goes by tuning messages as well'

/** The lamps on one output, and what is said of telling another, or the same, the tuning. */
function said(mts: RawShow, more: RawShow = {}, lampsToo = true): string[] {
  const din = { id: 'wire', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }
  const other = { id: 'choir', kind: 'midi', port: 'Choir', layout: 'channel-per-lamp', mts }
  const outputs = lampsToo ? [{ ...din, mts }] : [din, other]
  const house = quietHouse({ rig: rig({}, outputs), tunings: [EVEN, NINETEEN], ...more } as never)
  return found(house).filter((one) => one.includes('.mts:') && !one.includes(TWICE))
}

// Lengths by the MIDI Tuning Standard; MIDI 1.0: 31,250 baud, ten bits a byte, 0.32 ms a byte.
test('what telling a tuning costs, by form', () => {
  expect(said({ form: 'bulk' })).toEqual([
    'warning, $.rig.outputs[0].mts: telling a tuning there takes 408 bytes in one message; a message is up to 131 ms on a MIDI cable (31250 baud). It goes after the song\'s first lamps; 4 lamps on that port may wait 131 ms for it. The form "keys" goes in pieces of 12.8 ms; a port of its own has no such wait.',
  ])
  expect(said({ form: 'keys' })).toEqual([
    expect.stringMatching(
      /^note, .* takes 640 bytes in 16 messages, over 0\.41 s; a message is up to 12\.8 ms .* may wait 12\.8 ms for it\.$/,
    ),
  ])
  expect(said({ form: 'octave' })).toEqual([
    expect.stringMatching(/^note, .* takes 21 bytes .* up to 6\.72 ms/),
  ])
  expect(said({ form: 'octave-fine' })).toEqual([
    expect.stringMatching(/^note, .* takes 33 bytes .* up to 10\.6 ms/),
  ])
  expect(said({ form: 'bulk' }, {}, false)).toEqual([
    expect.stringMatching(/^note, \$\.rig\.outputs\[1\]\.mts: .* No lamp hangs on that port\.$/),
  ])
})

test('lamps that hang on the very output, whose box must not go by the tuning', () => {
  const din = { id: 'wire', kind: 'midi', port: 'Box', layout: 'mpe', mts: {} }
  const other = { id: 'choir', kind: 'midi', port: 'Choir', layout: 'channel-per-lamp' }
  const hung = (outputs: RawShow[]) =>
    found(quietHouse({ rig: rig({}, outputs as never) })).filter((one) => one.includes(TWICE))
  expect(hung([din])).toEqual([
    expect.stringMatching(/^note, \$\.rig\.outputs\[0\]\.mts: lamps hang on output wire/),
  ])
  expect(hung([{ ...din, mts: undefined } as never, { ...other, mts: {} }])).toEqual([])
})

test('a tuning that a form cannot say, of a song or of a control', () => {
  const songs = [tide([lead()], { tuning: 'nineteen' })]
  expect(said({ form: 'octave-fine' }, { songs })).toEqual([
    expect.stringMatching(
      /^warning, .*: tuning nineteen cannot be told there: key \d+ lies .* The forms "keys" and "bulk"/,
    ),
  ])
  const controls = [
    { player: 'keys', on: { kind: 'note', key: 21 }, do: { tuning: 'nineteen', retune: true } },
  ]
  const worked = said({ form: 'octave' }, { switching: { controls } } as never)
  expect(worked.map((one) => one.slice(0, one.indexOf(',')))).toEqual(['warning', 'note'])
})

test('keys that have no pitch, or one that the standard has no number for', () => {
  const map = { first: 36, last: 96, formalOctave: 2, degrees: [0, null, 1] }
  const scale = { id: 'shore', kind: 'scale', pitches: ['9/8', '5/4'], map, refNote: 60, refHz: 262 }
  const song = tide([lead({ notes: [60, 60] })], { tuning: 'shore' })
  const [note] = said({ form: 'keys' }, { songs: [song], tunings: [scale] } as never)
  // 67 of 128 keys lie outside 36 to 96; of the 61 within, every third one from 37 on has none, which is 20.
  expect(note).toMatch(
    /^note, .*: tuning shore has 87 keys without a pitch, or .*: 0, 1, 2, 3, 4, 5, 6, 7 and 79 more\./,
  )
})
