import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'

const pulsed = (pulse: RawShow, tempo = 120, more: RawShow = {}) =>
  found(quietHouse({ songs: [tide([lead({ pulse })], { tempo })], ...more }))

// WCAG 2.2, success criterion 2.3.1: three flashes in any one second. 3 to 30 and 60 Hz: epilepsy charities, second-hand.
test('a pulse at the tempo of its song: how often it flashes', () => {
  // 3 to 2 beats, 120 beats a minute: 3 a second.
  expect(pulsed({ ratio: '3:2' })).toEqual([
    expect.stringMatching(
      /^warning, song tide, part lead: pulse 3:2 is 3 flashes a second at 120 beats a minute, in the band of most concern\. Another tempo, tapped or followed, moves it in step\. WCAG 2\.2/,
    ),
  ])
  expect(pulsed({ ratio: '1:1' })).toEqual([
    expect.stringMatching(
      /^note, .*2 flashes a second at 120 beats a minute, slowly enough to be seen \(under 60\)/,
    ),
  ])
  expect(pulsed({ bpm: 1800 })).toEqual([
    expect.stringMatching(
      /^warning, .*a pulse of 1800 a minute is 30 flashes a second, in the band of most concern\. WCAG/,
    ),
  ])
  expect(pulsed({ ratio: '20:1' })).toEqual([
    expect.stringMatching(
      /^warning, .*40 flashes a second .*\(under 60\)\..* flashes do not fall on the beat/,
    ),
  ])
  expect(pulsed({ ratio: '30:1' })).toEqual([])
})

test('a controller sweeps through every rate up to the pitch, wherever it begins', () => {
  for (const ratio of ['1:2', '40:1'])
    expect(pulsed({ ratio, controller: 1 })).toEqual([
      expect.stringMatching(
        /^warning, .*Controller 1 takes it from there to the pitch, through every rate between/,
      ),
    ])
})

test('pulses of two parts come at different times', () => {
  const two = (first: string, second: string) =>
    found(
      quietHouse({
        songs: [
          tide([
            lead({ lamps: ['fern'], pulse: { ratio: first } }),
            lead({ id: 'low', lamps: ['moss', 'reed', 'sedge'], pulse: { ratio: second } }),
          ]),
        ],
      }),
    ).filter((one) => one.includes('together'))
  // 2 and 1.333 a second.
  expect(two('1:1', '2:3')).toEqual([
    expect.stringMatching(
      /^warning, song tide: the pulses of parts lead and low .* up to 3\.333 times a second/,
    ),
  ])
  expect(two('1:1', '1:1')).toEqual([])
  expect(two('1:1', '1:4')).toEqual([])
})

const on = (output: RawShow) => ({ rig: rig({}, [{ id: 'wire', ...output }]) })
const BOX = { kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }

test('an output that cannot flash as slowly', () => {
  // MIDI 1.0: key 0 is 8.1758 Hz, two semitones below is 7.2839. 12 log2(8.1758 / 2) = 24.4.
  expect(pulsed({ ratio: '1:1' }, 120, on(BOX)).filter((one) => one.startsWith('warning'))).toEqual([
    expect.stringMatching(
      /lamps fern, moss, reed and sedge: pulse 1:1 is 2 flashes a second at 120 beats a minute, and output wire goes no lower than 7\.284 Hz, which is key 0 bent down by 2 semitones\. .*stay dark\. A bendRange of 25 reaches it/,
    ),
  ])
  expect(pulsed({ ratio: '1:1' }, 120, on({ ...BOX, bendRange: 25 })).join()).toMatch(
    /note, .*output wire tells a rate and no more, .*not on the beat/,
  )
  // ATmega data sheet: 16 MHz / 8 / 65536 = 30.52 Hz without the coarser prescalers.
  const timer = { clockHz: 16_000_000, prescalers: [1, 8], bits: 16 }
  expect(pulsed({ ratio: '1:1' }, 120, on({ kind: 'serial', port: 'virtual', timer })).join()).toContain(
    'output wire goes no lower than 30.52 Hz',
  )
  expect(pulsed({ bpm: 15 })).toEqual([expect.stringMatching(/^note, .*0\.25 flashes a second/)])
  // 16 MHz / 1024 / 65536 = 0.2384 Hz, 14.3 a minute.
  expect(pulsed({ bpm: 14 }).join()).toContain('output wire goes no lower than 0.2384 Hz')
  const fixed = { ...BOX, layout: 'note-per-lamp', firstNote: 60 }
  expect(pulsed({ ratio: '1:1' }, 120, on(fixed)).join()).toContain(
    'is one fixed key, and flashes at that whatever its pulse',
  )
})

test('a pulse without a controller never comes to the pitch of a key: nothing is told of that', () => {
  const low = { notes: [0, 40] }
  const show = (pulse: RawShow) => quietHouse({ songs: [tide([lead({ ...low, pulse })])] })
  expect(found(show({ bpm: 90 })).join()).not.toMatch(/octaves move|on \d+ keys/)
  expect(found(show({ bpm: 90, controller: 1 })).join()).toMatch(
    /flash slowly enough to be seen, .*on \d+ keys.*octaves move/s,
  )
})
