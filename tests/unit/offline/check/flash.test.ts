import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

// WCAG 2.2, success criterion 2.3.1: three flashes in any one second. 3 to 30 and 60 Hz: epilepsy charities, second-hand.
test('keys slow enough to be seen', () => {
  // A0 27.5 and Bb0 29.14 Hz are at most 30; Bb1 58.27 is the last under 60.
  expect(found(quietHouse({ songs: [tide([lead({ notes: [21, 108] })])] }))).toEqual([
    expect.stringMatching(
      /^warning, song tide, part lead: .* at 27.5 to 58.27 Hz \(under 60\), on 14 keys: A0 \(21\) to A#1 \(34\). 2 of them at 3 to 30 Hz/,
    ),
  ])
})

const travel = (options: object, tempo = 120) =>
  found(quietHouse({ songs: [tide([lead({ strategy: { kind: 'travel', ...options } })], { tempo })] }))

test('a travelling voice at a sixteenth, 120 beats a minute, moves every 125 ms', () => {
  expect(travel({ move: { every: '1/16' } })).toEqual([
    expect.stringMatching(
      /^warning, .*moves 8 times a second: a lamp goes on and off up to 2 times a second, and some lamp of the field goes dark 8 times/,
    ),
  ])
  // There and back is 6 moves, with the inner lamps twice.
  expect(travel({ move: { every: '1/16' }, path: 'pendulum' })[0]).toContain('up to 2.67 times a second')
  expect(travel({ move: { every: '1/16' } }, 40)).toEqual([])
  expect(travel({ move: { every: '1/16' }, width: 4 })).toEqual([])
  expect(travel({ move: 'note' })).toEqual([])
})

test('an overlap until the lamp is found again is no darkness', () => {
  expect(travel({ move: { everyMs: 100 }, overlapMs: 300 })).toEqual([])
  expect(travel({ move: { everyMs: 100 }, overlapMs: 299 })).toHaveLength(1)
})

const canon = (delayMs: number, lamps = ['fern', 'moss', 'reed', 'sedge']) =>
  found(quietHouse({ songs: [tide([lead({ strategy: { kind: 'canon', delayMs }, lamps })])] })).filter(
    (one) => one.includes('ripple') || one.includes('goes over'),
  )

test('a canon ripples over the lamps', () => {
  expect(canon(100)).toEqual([
    expect.stringMatching(/^warning, .*one every 100 ms: up to 4 flashes a second/),
  ])
  expect(canon(300)[0]).toContain('up to 3.33 flashes')
  expect(canon(334)).toEqual([])
  expect(canon(0)).toEqual([])
  expect(canon(100, ['fern', 'moss'])).toEqual([])
})

test('a gap before a repeated note is a flash', () => {
  expect(found(quietHouse({ rig: rig(), songs: [tide([lead({ gapMs: 8 })])] }))).toEqual([
    expect.stringMatching(
      /^note, song tide, part lead: a lamp struck again while lit is dark for 8 ms first/,
    ),
  ])
})
