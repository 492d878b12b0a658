import { describe, expect, test } from 'vitest'
import type { PartEvent } from '../../../src/domain/part-event.ts'
import { canon } from '../../../src/strategies/canon.ts'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'canon'

describe('canon', () => {
  test('lamp k repeats the line k times the delay later, and goes on after the keys are up', () => {
    expectPicture(
      { strategy, options: { delayMs: 30 } },
      `
      60   |==...........|
      64   |..==.........|
      fern |AaBb.........|
      moss |...AaBb......|
      reed |......AaBb...|
      `,
    )
  })

  test('legato in the line is legato in its answers', () => {
    expectPicture(
      { strategy, options: { delayMs: 20 } },
      `
      60   |=====......|
      64   |..==.......|
      fern |Aabba......|
      moss |..Aabba....|
      `,
    )
  })

  test('the delay is a note value at the song’s tempo: an eighth at 97.0625 is 309,079 µs', () => {
    const lit = expectPicture(
      { strategy, tempo: 97.0625, columnMs: 100 },
      `
      60    |==..........|
      fern  |Aa..........|
      moss  |...Aa.......|
      reed  |......Aa....|
      sedge |.........Aa.|
      `,
    )
    const eighth = (60_000_000 / 97.0625) * 0.5
    expect(lit.filter(({ voice }) => voice).map(({ at }) => at)).toEqual(
      [0, 1, 2, 3].map((lamp) => Math.round(lamp * eighth)),
    )
  })

  test.each([
    ['last', 'Abca.', '.Abca'],
    ['low', 'Abba.', '.Abba'],
    ['high', 'Aaca.', '.Aaca'],
    ['first', 'Aaaa.', '.Aaaa'],
  ])('the line goes by priority %s', (priority, fern, moss) => {
    expectPicture(
      { strategy, options: { priority, delayMs: 10 } },
      `
      60   |====.|
      55   |.==..|
      65   |..=..|
      fern |${fern}|
      moss |${moss}|
      `,
    )
  })

  test('no delay: all lamps together', () => {
    expectPicture(
      { strategy, options: { delayMs: 0 } },
      `
      60   |==.|
      fern |Aa.|
      moss |Aa.|
      `,
    )
  })

  test('a new tempo keeps every answer on its beat', () => {
    // A quarter is 500 ms. Half a beat gone of the first, the tempo doubles: the rest of it takes half as long.
    expectPicture(
      { strategy, options: { delay: '1/4' }, tempo: 120, columnMs: 50 },
      `
      tempo |.....2..............|
      60    |==..................|
      fern  |Aa..................|
      moss  |.......A............|
      reed  |............A.......|
      `,
    )
  })

  test('delayMs keeps its time whatever the tempo', () => {
    expectPicture(
      { strategy, options: { delayMs: 40 } },
      `
      tempo |..2.......|
      60    |==........|
      fern  |Aa........|
      moss  |....Aa....|
      reed  |........Aa|
      `,
    )
  })

  test('a lamp given back joins in where its line is, a refused one with its next note', () => {
    expectPicture(
      { strategy, options: { delayMs: 20 } },
      `
      60       |=====......|
      64       |.....==....|
      moss not |.xxx.......|
      reed no  |...xx......|
      fern     |AaaaaBb....|
      moss     |....AaaBb..|
      reed     |.........Bb|
      `,
    )
  })

  test('all off ends the answers too', () => {
    expectPicture(
      { strategy, options: { delayMs: 20 } },
      `
      60      |==.........|
      all off |...!.......|
      fern    |Aa.........|
      moss    |..A........|
      reed    |...........|
      `,
    )
  })

  test('a key corrected in time is not repeated wrong; a lamp that had it wrong already follows without a strike', () => {
    const lit = expectPicture(
      { strategy, options: { delayMs: 20 } },
      `
      48   |===^==....|
      fern |Aaaaaa....|
      moss |..Aaaaaa..|
      reed |....Aaaaaa|
      `,
    )
    const heard = lit.filter(({ voice, lamp }, index) => {
      const before = lit.slice(0, index).findLast((other) => other.lamp === lamp)
      return voice && before?.voice?.key !== voice.key
    })
    expect(heard.map(({ at, lamp, voice, strike }) => [at, lamp, voice?.key, strike])).toEqual([
      [0, 'fern', 48, true],
      [20_000, 'moss', 48, true],
      [30_000, 'fern', 60, false],
      [40_000, 'reed', 60, true],
      [50_000, 'moss', 60, false],
    ])
  })
})

test('a legato note of the same voice is one more of the line: every lamp repeats both', () => {
  const lamps = ['fern', 'moss']
  const view = { lamps, tempo: 120, time: { at: 0, beats: 0, tempo: 120 }, usable: () => true }
  const note = { id: 1, key: 40, channel: 1, velocity: 100 }
  const events: [number, PartEvent][] = [
    [0, { kind: 'note-on', note }],
    [20_000, { kind: 'note-rekey', id: 1, key: 43, legato: true }],
    // An octave that was wrong is put right for the last note only.
    [30_000, { kind: 'note-rekey', id: 1, key: 55 }],
    [50_000, { kind: 'wake' }],
    [70_000, { kind: 'wake' }],
    [80_000, { kind: 'wake' }],
  ]
  let state = canon.start({ delay: '1/8', delayMs: 50, priority: 'last' }, lamps)
  const told = events.flatMap(([at, event]) => {
    const step = canon.step(state, event, view, at)
    state = step.state
    return step.intents.map((one) => [at / 1000, one.lamp, one.kind === 'light' ? one.voice.key : null])
  })
  expect(told).toEqual([
    [0, 'fern', 40],
    [20, 'fern', 43],
    [30, 'fern', 55],
    [50, 'moss', 40],
    [70, 'moss', 55],
    [80, 'moss', 55],
  ])
})
