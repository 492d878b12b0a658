import { expect, test } from 'vitest'
import type { RawShow } from '../../../support/shows.ts'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

const DIN = { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' }

const sent = (clock: object, more: object = {}, output: RawShow = DIN) =>
  quietHouse({
    rig: rig({ output: 'din' }, [output]),
    songs: [{ ...tide([lead({})]), tempo: 137.1234 }],
    clock,
    ...more,
  } as never)

test('a clock on the port of lamps costs a share of the wire, and waits for lamps that are struck', () => {
  // MIDI 1.0 Detailed Specification: 31,250 baud, so 0.32 ms a byte, and 24 clocks a quarter note: 137.1234 / 60 x 24 x 0.32 ms a second is 1.755 %.
  // Four lamps with three messages of three bytes each: 36 bytes, 11.52 ms.
  expect(found(sent({ send: ['Lamp box'] }))).toEqual([
    expect.stringMatching(
      /^note, \$\.clock\.send\[0\]: lamps hang on port "Lamp box" too\. At 137\.1234 beats .* takes 1\.7[56] % .* while 4 lamps are struck anew may be 11\.5 ms late/,
    ),
  ])
  expect(found(sent({ send: ['Drum tower'] }))).toEqual([])
})

test('a name that is nearly that of a lamp output, or is a serial port, and one listed twice', () => {
  expect(found(sent({ send: ['Lampbox', 'Lampbox'] }))).toEqual([
    expect.stringMatching(
      /^note, \$\.clock\.send\[0\]: no output is on a port "Lampbox", and it is nearly "Lamp box"/,
    ),
    expect.stringMatching(/^note, \$\.clock\.send\[1\]: port "Lampbox" is listed twice/),
  ])
  const wire = { id: 'din', kind: 'serial', port: '/dev/ttyUSB0' }
  expect(found(sent({ send: ['/dev/ttyUSB0'] }, {}, wire))).toEqual([
    expect.stringMatching(
      /^warning, \$\.clock\.send\[0\]: "\/dev\/ttyUSB0" is the serial port of output din/,
    ),
  ])
})

test('a clock that is passed on to the same port is a second one', () => {
  const thru = [{ player: 'keys', to: 'din', pass: ['clock'] }]
  expect(found(sent({ send: ['Lamp box'] }, { thru }))).toContainEqual(
    expect.stringMatching(/^warning, \$\.clock\.send\[0\]: port "Lamp box" gets a second clock/),
  )
  expect(found(sent({ send: ['Drum tower'] }, { thru }))).toEqual([])
})
