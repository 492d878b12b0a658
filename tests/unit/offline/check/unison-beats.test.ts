import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'

const FAST = { id: 'wire', kind: 'serial', port: 'virtual' }
/** A quarter of a megahertz: 250000 / 880 is 284.09, so 284 ticks, 880.28 Hz. */
const SLOW = {
  id: 'slow',
  kind: 'serial',
  port: 'other',
  timer: { clockHz: 250_000, prescalers: [1], bits: 16 },
}

function unison(outputs: Json[], lamps: RawShow[], notes: number[], strategy: RawShow = {}): string[] {
  const all = rig({}, outputs)
  const own = (all['lamps'] as RawShow[]).map((lamp, place) => ({ ...lamp, ...lamps[place] }))
  const part = lead({ notes, strategy: { kind: 'unison', ...strategy } })
  return found(quietHouse({ rig: { ...all, lamps: own }, songs: [tide([part])] })).filter((one) =>
    /\bbeat\b/.test(one),
  )
}

test('two kinds of timer of one voice', () => {
  // ATmega640/1280/2560 data sheet: 16 MHz / 18182 = 879.991 Hz, 250 kHz / 284 = 880.282 Hz; at 1760 Hz 16 MHz / 9091 = 1759.982, 250 kHz / 142 = 1760.563: 0.581 beats.
  const lamps = [{}, { output: 'slow', slot: 0 }, {}, {}]
  expect(unison([FAST, SLOW], lamps, [81, 81])).toEqual([])
  expect(unison([FAST, SLOW], lamps, [93, 93])).toEqual([
    expect.stringMatching(
      /^warning, song tide, part lead: lamps fern and moss are to sound one pitch and beat: up to 0\.581 times a second, at key A6 \(93\) \(1759\.98 and 1760\.56 Hz\), and over 0\.5 on 1 key\./,
    ),
  ])
  expect(unison([FAST], [{}, {}, {}, {}], [36, 108])).toEqual([])
})

test('trims may be what puts boxes right; a detune is meant', () => {
  // 2 cents of 440 Hz: 0.509 Hz.
  expect(unison([FAST], [{}, { trimCents: 2 }, {}, {}], [69, 69])).toEqual([
    expect.stringMatching(/^note, .*beat: up to 0\.5\d* times a second.* Their trimCents differ \(0 and 2\)/),
  ])
  expect(unison([FAST], [{}, {}, {}, {}], [69, 69], { detuneCents: [0, 7, 0, 0] })).toEqual([])
})

test('lamps that octaves move elsewhere are not to agree', () => {
  expect(unison([FAST], [{}, { lowHz: 600, highHz: 1300 }, {}, {}], [69, 69])).toEqual([])
})
