import { expect, test } from 'vitest'
import { found, foundPaths, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'

const guards = (flash: RawShow): RawShow => ({ guards: { flash } })
const FOLD: RawShow = { action: 'fold' }
const LIMIT: RawShow = { action: 'limit', changes: 6 }
const GLOW: RawShow = { action: 'glow', seconds: 4 }

const song = (part: RawShow, flash: RawShow, more: RawShow = {}): RawShow =>
  quietHouse({ songs: [tide([lead(part)], { tempo: 120 })], ...guards(flash), ...more })

test('off: a warning with its date, for the show and for each song', () => {
  const off = (since: string): RawShow => ({ action: 'off', since })
  const show = quietHouse({
    songs: [tide([lead()]), tide([lead()], { id: 'ebb', flash: off('2031-03-01') })],
    ...guards(off('2031-02-28')),
  })
  expect(found(show).filter((one) => one.startsWith('warning'))).toEqual([
    expect.stringMatching(
      /^warning, \$\.guards\.flash: the flash guard is off since 2031-02-28: .*nobody is told/,
    ),
    expect.stringMatching(/^warning, song ebb: the flash guard is off since 2031-03-01/),
  ])
  expect(foundPaths(show).slice(0, 2)).toEqual([
    ['guards', 'flash'],
    ['songs', 1, 'flash'],
  ])
})

// A1 is 55 Hz, Bb1 58.27, B1 61.74 (twelve equal steps at 440 Hz).
test('slow keys that the guard moves are told as moved, not warned of', () => {
  const low = { notes: [33, 60] }
  expect(found(song(low, { action: 'warn' }))).toEqual([
    expect.stringMatching(/^warning, .* flash slowly enough to be seen, at 55 to 58\.27 Hz/),
  ])
  for (const guard of [FOLD, LIMIT]) {
    const told = found(song(low, guard))
    expect(told).toEqual([
      expect.stringMatching(
        /^note, .* would flash slowly enough to be seen, at 55 to 58\.27 Hz .*on 2 keys: A1 \(33\) to A#1 \(34\)\. The flash guard \((fold|limit)\) moves them up by octaves, to 60 Hz and above/,
      ),
      expect.stringMatching(
        /^note, .*octaves move A1 \(33\) to A#1 \(34\) up, into 60 to .* as the flash guard leaves nothing slower/,
      ),
    ])
  }
})

test('a song whose guard is its own is told by that', () => {
  const songs: Json[] = [
    tide([lead({ notes: [33, 60] })], { flash: FOLD }),
    tide([lead({ notes: [33, 60] })], { id: 'ebb' }),
  ]
  const slow = found(quietHouse({ songs })).filter((one) => one.includes('slowly enough'))
  expect(slow).toEqual([
    expect.stringMatching(/^warning, song ebb, part lead: .*flash slowly/),
    expect.stringMatching(/^note, song tide, part lead: .*would flash slowly/),
  ])
})

test('a lamp whose range leaves no octave from 60 Hz up', () => {
  const narrow = (highHz: number, guard: RawShow): string[] =>
    found(song({ notes: [33, 34] }, guard, { rig: rig({ lowHz: 20, highHz }) }))
  // Twice 55 and 58.27 Hz are 110 and 116.5.
  expect(narrow(112, FOLD).filter((one) => !one.startsWith('note'))).toEqual([
    expect.stringMatching(
      /cannot sound 1 of its 2 keys, A#1 \(34\), .*no octave of them lies within 60 to 112 Hz, which is what the flash guard leaves of its range/,
    ),
    expect.stringMatching(/^warning, song tide: lamps .* have less than an octave from 60 Hz up/),
  ])
  expect(narrow(59, LIMIT).join('\n')).toMatch(
    /fault, song tide: lamps fern, moss, reed and sedge never light in this song: the flash guard \(limit\) leaves no rate under 60 Hz/,
  )
  expect(narrow(120, FOLD).filter((one) => !one.startsWith('note'))).toEqual([])
  expect(narrow(59, GLOW).join('\n')).not.toContain('leaves no rate')
})

test('a pulse that the guard makes a tone', () => {
  const pulsed = (ratio: string, guard: RawShow, more: RawShow = {}): string[] =>
    found(song({ pulse: { ratio } }, guard, more))
  // 3 to 2 beats at 120 a minute are 3 a second; 96 is five octaves up, the first from 60 on.
  expect(pulsed('3:2', FOLD)).toEqual([
    expect.stringMatching(
      /^warning, .*pulse 3:2 is 3 flashes a second at 120 beats a minute, and the flash guard \(fold\) moves it up by octaves to 96 Hz: a tone, and no pulse\./,
    ),
  ])
  expect(pulsed('3:2', FOLD, { rig: rig({ highHz: 90 }) }).join()).toContain(
    'lamps fern, moss, reed and sedge cannot go as high, and stay dark',
  )
  // Slower than 3 a second a fold leaves it, a limit does not.
  expect(pulsed('1:1', FOLD)).toEqual([expect.stringMatching(/^note, .*2 flashes a second/)])
  expect(pulsed('1:1', LIMIT)).toEqual([
    expect.stringMatching(
      /^warning, .*2 flashes a second .*the flash guard \(limit\) moves it up by octaves to 64 Hz/,
    ),
  ])
  expect(pulsed('3:2', GLOW).join()).toMatch(/in the band of most concern/)
  // A controller that goes from a pulse to the pitch: what the guard does not let flash between is moved.
  const swept = (ratio: string, guard: RawShow): string[] =>
    found(song({ pulse: { ratio, controller: 1 } }, guard))
  expect(swept('40:1', { action: 'warn' })).toEqual([
    expect.stringMatching(/^warning, .*through every rate between/),
  ])
  for (const [ratio, guard] of [
    ['40:1', FOLD],
    ['40:1', LIMIT],
    ['1:1', FOLD],
  ] as const)
    expect(swept(ratio, guard)).toEqual([
      expect.stringMatching(
        /^note, .*what the flash guard \((fold|limit)\) does not let flash between is moved up/,
      ),
    ])
})

// 8 moves a second.
const travel = (flash: RawShow, more: RawShow = {}): string[] =>
  found(song({ strategy: { kind: 'travel', move: { every: '1/16' } } }, flash, more)).filter((one) =>
    one.includes('the voice moves'),
  )

test('what is switched too often under a limit is told as limited', () => {
  expect(travel(LIMIT)).toEqual([
    expect.stringMatching(/^note, .*leaves at most 6 changes of the field in any second, and ties the notes/),
  ])
  // Twenty changes are ten flashes.
  expect(travel({ action: 'limit', changes: 20 })).toEqual([
    expect.stringMatching(/^warning, .*at most 20 changes/),
  ])
  expect(travel(FOLD)).toEqual([expect.stringMatching(/^warning, .*A longer move slows both[^.]*\.$/)])
})

test('what is switched too often while lamps glow is told as kept lit, where all of them can be', () => {
  expect(travel(GLOW)).toEqual([
    expect.stringMatching(/^note, .*keeps these lamps lit above hearing between, until 4 s/),
  ])
  const box = [{ id: 'wire', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }]
  expect(travel(GLOW, { rig: rig({}, box) })).toEqual([
    expect.stringMatching(/^warning, .*but not all of these/),
  ])
  expect(travel(GLOW, { rig: rig({ watts: 20 }) })).toEqual([
    expect.stringMatching(/^warning, .*but not all of these/),
  ])
})

test('glow: lamps on MIDI, timers that are too slow, supplies that are too small', () => {
  const glowing = (more: RawShow): string[] =>
    found(song({}, GLOW, more)).filter((one) => /go dark|keeps lit/.test(one))
  expect(glowing({})).toEqual([])
  const box = [{ id: 'wire', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }]
  expect(glowing({ rig: rig({}, box) })).toEqual([
    expect.stringMatching(
      /^warning, song tide: lamps fern, moss, reed and sedge go dark between notes all the same: output wire is MIDI/,
    ),
  ])
  // 12 V x 5 A x 0.8 are 48 W; four lamps of 20 W are 6.67 A.
  expect(glowing({ rig: rig({ watts: 20 }) })).toEqual([
    expect.stringMatching(
      /^warning, song tide: the 4 lamps of supply bench .* draw 6\.67 A together, and its limit is 4 A: some go dark/,
    ),
  ])
  expect(found(song({}, FOLD, { rig: rig({}, box) })).join()).not.toMatch(/between notes all the same/)
})

test('heat that no duty can hold down', () => {
  const heat = { meanWatts: 4, seconds: 20 }
  const box = (more: RawShow): Json[] => [
    { id: 'wire', kind: 'midi', port: 'Box', layout: 'channel-per-lamp', ...more },
  ]
  const about = (outputs: Json[] | undefined, lamp: RawShow): string[] =>
    found(quietHouse({ rig: rig(lamp, outputs) })).filter((one) => one.includes('dutyController'))
  expect(about(box({}), { heat })).toEqual([
    expect.stringMatching(
      /^warning, .*lamp fern is said to bear 4 W in the mean, and output wire has no dutyController/,
    ),
    expect.stringMatching(/lamp moss/),
    expect.stringMatching(/lamp reed/),
    expect.stringMatching(/lamp sedge/),
  ])
  expect(about(box({ dutyController: 74 }), { heat })).toEqual([])
  expect(about(undefined, { heat })).toEqual([])
  expect(about(box({}), {})).toEqual([])
})
