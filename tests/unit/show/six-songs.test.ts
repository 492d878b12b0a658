import { expect, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { checkShow } from '../../../src/offline/check-show.ts'
import { gigNotes, gigShow, PEDAL, showText, songsExpected, takeBytes } from '../../support/six-songs.ts'
import { validShow } from '../../support/valid-show.ts'

const show = validShow(gigShow())

function take() {
  const read = readMidiFile(takeBytes())
  if (!read.ok) throw new Error(read.error.what)
  return read.file
}

test('the gig is a valid show that nothing grave is said of', () => {
  expect(validShow(JSON.parse(showText()))).toEqual(show)
  expect(show.setList).toEqual(songsExpected().map(({ song }) => song))
  expect(checkShow(show).filter(({ gravity }) => gravity === 'fault')).toEqual([])
  const other = validShow(gigShow({ input: 'Deck', output: { id: 'box', kind: 'serial', port: '/dev/x' } }))
  expect(other.players[0]?.input.port).toBe('Deck')
  expect(other.rig.lamps.every(({ output }) => output === 'box')).toBe(true)
})

test('its take reads back to the microsecond: every note, and a pedal between the songs', () => {
  const { tracks, warnings, endsAt } = take()
  expect(warnings).toEqual([])
  expect(tracks.map(({ name }) => name)).toEqual(['keys'])
  const events = tracks[0]?.events ?? []
  const on = events.flatMap(({ at, message }) => (message.type === 'note-on' ? [[at, message.key]] : []))
  expect(on).toEqual(gigNotes().map(({ onMs, key }) => [onMs * 1000, key]))
  expect(events.filter(({ message }) => message.type === 'note-off')).toHaveLength(on.length)
  const pedal = events.flatMap(({ at, message }) =>
    message.type === 'controller' && message.controller === PEDAL ? [[at, message.value]] : [],
  )
  expect(pedal.map(([, value]) => value)).toEqual([127, 0, 127, 0, 127, 0, 127, 0, 127, 0])
  expect(endsAt).toBe(10_500_000)
})

test('every song begins when its pedal is pressed or later, and its phrase is struck while it plays', () => {
  const expected = songsExpected()
  const pressed = (take().tracks[0]?.events ?? []).flatMap(({ at, message }) =>
    message.type === 'controller' && message.value === 127 ? [at] : [],
  )
  expect(pressed).toHaveLength(expected.length - 1)
  for (const [place, { atMicros, song }] of expected.entries()) {
    const own = gigNotes().filter((note) => note.song === song)
    const until = expected[place + 1]?.atMicros ?? Infinity
    expect(own).toHaveLength(3)
    expect(own.every(({ onMs }) => onMs * 1000 > atMicros && onMs * 1000 < until)).toBe(true)
    expect(atMicros).toBeGreaterThanOrEqual([0, ...pressed][place] ?? Infinity)
  }
})
