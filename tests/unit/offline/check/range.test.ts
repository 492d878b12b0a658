import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

// Twelve equal steps at 440 Hz (MIDI 1.0 key numbers): Ab4 415.30, A4 440, Bb4 466.16, B4 493.88 Hz; C3 130.81, B5 987.77, C6 1046.50.
test('keys of which no octave fits a range of under an octave', () => {
  const show = quietHouse({
    rig: rig({ lowHz: 400, highHz: 500 }),
    songs: [tide([lead({ notes: [60, 72] })])],
  })
  expect(found(show)).toEqual([
    expect.stringMatching(
      /^warning, song tide, part lead: lamps fern, moss, reed and sedge cannot sound 9 of its 13 keys, C4 \(60\) to G4 \(67\), C5 \(72\), /,
    ),
  ])
})

test('keys are told as played, before transposing', () => {
  const show = quietHouse({
    rig: rig({ lowHz: 400, highHz: 500 }),
    songs: [tide([lead({ notes: [63, 75], transpose: -3 })])],
  })
  expect(found(show)[0]).toContain('9 of its 13 keys, D#4 (63) to A#4 (70), D#5 (75), ')
})

test('a part that lights nothing at all is a fault', () => {
  const show = quietHouse({ rig: rig({ lowHz: 430, highHz: 435 }) })
  expect(found(show)).toEqual([
    expect.stringMatching(
      /^fault, song tide, part lead: no note of this part ever lights a lamp: none of its 73 keys/,
    ),
  ])
})

/** What is found with a timer of so many bits at 16 MHz and no prescaler. */
function withTimer(bits: number): string[] {
  const timer = { clockHz: 16_000_000, prescalers: [1], bits }
  return found(quietHouse({ rig: rig({}, [{ id: 'wire', kind: 'serial', port: 'virtual', timer }]) }))
}

test('rates that the output cannot make', () => {
  // f = clock / (prescaler x (1 + TOP)), ATmega640/1280/2560 data sheet. 16 bits at 16 MHz without a prescaler end at
  // 244.14 Hz: Bb3 is 233.08, B3 246.94 Hz. 8 bits end at 62.5 kHz.
  expect(withTimer(16)).toEqual([
    expect.stringMatching(
      /^warning, .*cannot sound 23 of its 73 keys, C2 \(36\) to A#3 \(58\), .*: output wire cannot make those rates/,
    ),
  ])
  expect(withTimer(8)).toEqual([
    expect.stringMatching(/^fault, song tide, part lead: no note of this part ever/),
  ])
})

test('a chime lamp whose key the part does not take', () => {
  const chime = lead({ strategy: { kind: 'chime', notes: [60, 62, 64, 20] }, transpose: 12 })
  expect(found(quietHouse({ songs: [tide([chime])] }))).toEqual([
    expect.stringMatching(
      /^warning, song tide, part lead: lamp sedge of the chime never lights: the part takes C2 \(36\) to C8 \(108\), moved by 12/,
    ),
  ])
})

test('octaves that move keys, where the part chose its keys', () => {
  const narrow = rig({ lowHz: 130, highHz: 1000 })
  expect(found(quietHouse({ rig: narrow, songs: [tide([lead({ notes: [36, 84] })])] }))).toEqual([
    'note, song tide, part lead: lamps fern, moss, reed and sedge: octaves move C2 (36) to B2 (47) up and C6 (84) down, into 130 to 1000 Hz.',
  ])
  expect(found(quietHouse({ rig: narrow, songs: [tide([lead({ notes: [0, 127] })])] }))).toEqual([])
})
