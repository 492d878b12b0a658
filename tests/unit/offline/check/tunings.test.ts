import { expect, test } from 'vitest'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { FARTHEST, found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const NINETEEN = { ...EVEN, id: 'nineteen', steps: 19 }
/** White keys only, from C4 up: a map of seven degrees on twelve keys. */
const WHITE = {
  id: 'white',
  kind: 'scale',
  pitches: ['9/8', '5/4', '4/3', '3/2', '5/3', '15/8', '2/1'],
  map: { middle: 60, formalOctave: 7, degrees: [0, null, 1, null, 2, 3, null, 4, null, 5, null, 6] },
  refNote: 60,
  refHz: 261.625565,
}

test('keys that the tuning leaves out, by how the part chose its keys', () => {
  const show = (more: RawShow) =>
    quietHouse({ tunings: [WHITE], songs: [tide([lead(more)], { tuning: 'white' })] })
  expect(found(show({ notes: [60, 72] }))).toEqual([
    'warning, song tide, part lead: the tuning has no pitch for 5 of 13 keys, C#4 (61), D#4 (63), F#4 (66), G#4 (68) and 1 more span: they stay dark. Give them a degree in the map of tuning white, or narrow the part\'s "notes".',
  ])
  // Black keys: C#-1 (1) to ... of ten octaves and a fifth.
  expect(found(show({ notes: [0, 127] })).filter((one) => one.includes('no pitch'))).toEqual([
    expect.stringMatching(/^note, song tide, part lead: the tuning has no pitch for 53 of 128 keys/),
  ])
  expect(found(show({ notes: [61, 61] }))).toEqual([
    expect.stringMatching(
      /^fault, .*no note of this part ever lights a lamp: tuning white has no pitch for any of its 1 key\./,
    ),
  ])
  const chime = { strategy: { kind: 'chime', notes: [60, 62, 63, 64] } }
  expect(found(show(chime))).toEqual([
    expect.stringMatching(
      /^warning, .*: lamp reed: the tuning has no pitch for 1 of 1 key, D#4 \(63\): they stay dark/,
    ),
  ])
})

test('a tuning that nobody comes to, and one that every part overrides', () => {
  const part = lead({ tuning: 'nineteen' })
  const show = quietHouse({
    tunings: [EVEN, NINETEEN, { ...NINETEEN, id: 'spare' }],
    songs: [tide([part], { tuning: 'even' })],
  })
  expect(found(show)).toEqual([
    expect.stringMatching(/^note, song tide: its tuning even is never heard/),
    expect.stringMatching(/^note, \$\.tunings\[2\]: no song, part or control comes to tuning spare/),
  ])
  const other = lead({ id: 'low', lamps: ['fern'], notes: [36, 40] })
  expect(found({ ...show, songs: [tide([part, other], { tuning: 'even' })] }).join()).not.toContain(
    'never heard',
  )
  const control = { player: 'keys', on: { kind: 'program' as const, program: 3 }, do: { tuning: 'spare' } }
  expect(found({ ...show, switching: { controls: [control] } }).join()).not.toContain('spare')
})

test('a received tuning is told by its base, which it uses', () => {
  const show = quietHouse({
    tunings: [EVEN, { id: 'sent', kind: 'received', player: 'keys', program: 4, base: 'even' }],
    songs: [tide([lead()], { tuning: 'sent' })],
  })
  expect(found(show)).toEqual([
    expect.stringMatching(
      /^note, \$\.tunings\[1\]: tuning sent is what player keys sends \(MIDI Tuning Standard, program 4\)\. Until that comes it is tuning even, and so it is in every figure told here/,
    ),
  ])
})

test('the farthest pitch, where none is heard to be off', () => {
  // ATmega640/1280/2560 data sheet, f = clock / (prescaler x (1 + TOP)), worked out for every key: C8 (108) comes to 3821 + 1 ticks, 4186.29 Hz, +0.1162 cents; the farthest of keys 100 to 108.
  const notes = [100, 108]
  const [one] = checkShow(validShow(quietHouse({ songs: [tide([lead({ notes })])] })))
  const off = Array.from({ length: 9 }, (_, place) => {
    const hz = 440 * 2 ** ((100 + place - 69) / 12)
    return { key: 100 + place, cents: 1200 * Math.log2(16e6 / Math.round(16e6 / hz) / hz) }
  }).reduce((a, b) => (Math.abs(b.cents) > Math.abs(a.cents) ? b : a))
  expect(one).toMatchObject({ gravity: 'note', where: 'song tide, part lead' })
  expect(one?.message).toMatch(FARTHEST)
  expect(one?.message).toContain(`(${off.key}) on lamp fern`)
  expect(one?.message).toContain(`${off.cents > 0 ? '+' : ''}${off.cents.toFixed(2)} cents; fine`)
  // Not where one is: that is told as such.
  const slow = rig({}, [
    { id: 'wire', kind: 'serial', port: 'virtual', timer: { clockHz: 31_250, prescalers: [1], bits: 16 } },
  ])
  const told = checkShow(validShow(quietHouse({ rig: slow }))).map(({ message }) => message)
  expect(told.filter((message) => FARTHEST.test(message))).toEqual([])
  expect(told.join()).toContain('more than 5 cents off')
})
