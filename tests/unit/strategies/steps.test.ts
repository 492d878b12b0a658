import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'
import type { RawShow } from '../../support/shows.ts'

const strategy = 'steps'

/** One pattern, moved by hits that light for 20 ms where nothing else is said. */
function hits(rows: RawShow[], more: RawShow = {}): RawShow[] {
  return [{ id: 'five', gateMs: 20, rows, ...more }]
}

/** One pattern, moved by the clock: a sixteenth at 120 is 125 ms. */
function clocked(rows: RawShow[], more: RawShow = {}): RawShow[] {
  return [{ id: 'five', advance: 'clock', rows, ...more }]
}

describe('steps: moved by hits', () => {
  test('each hit moves every row by one step; a rest is silent, and each row has its own length', () => {
    const lit = expectPicture(
      {
        strategy,
        patterns: hits([
          { lamp: 'fern', steps: [60, 62, 0] },
          { lamp: 'moss', steps: [48, 0] },
        ]),
      },
      `
      38   |=...=...=...=...|
      fern |Aa..Bb......Dd..|
      moss |Aa......Cc......|
      `,
    )
    expect(lit.filter(({ voice }) => voice).map(({ lamp, voice }) => [lamp, voice?.key])).toEqual([
      ['fern', 60],
      ['moss', 48],
      ['fern', 62],
      ['moss', 48],
      ['fern', 60],
    ])
  })

  test('how long the hit lasts is nothing to the steps', () => {
    expectPicture(
      { strategy, patterns: hits([{ lamp: 'fern', steps: [60] }], { gateMs: 40 }) },
      `
      38   |=....======..=_____|
      fern |Aaaa.Bbbb....Cccc..|
      `,
    )
  })

  test('without gateMs a step sounds its part of the time between the last two hits; the first goes by the division', () => {
    const patterns = [{ id: 'five', rows: [{ lamp: 'fern', steps: [60] }] }]
    // Half of 125 ms, then half of 80.
    expectPicture(
      { strategy, patterns },
      `
      38   |=.......=.......|
      fern |Aaaaaa..Bbbb....|
      `,
    )
    // A pause of five seconds counts as two.
    expectPicture(
      { strategy, columnMs: 500, patterns },
      `
      38   |=.........=..=..|
      fern |!.........Bb.C..|
      `,
    )
  })

  test('the end of a strike never ends a later one', () => {
    // The first would end at 187 ms, within the third; the second at 95 ms.
    expectPicture(
      { strategy, patterns: [{ id: 'five', gate: 1.5, rows: [{ lamp: 'fern', steps: [60] }] }] },
      `
      38   |=.....=..........=................|
      fern |AaaaaaBbbbbbbbb..Cccccccccccccccc.|
      `,
    )
  })

  test('steps have a duty and a gate of their own; an accent makes both velocity and duty greater', () => {
    const rows = [
      {
        lamp: 'fern',
        steps: [
          { note: 60, duty: 0.2 },
          { note: 60, duty: 0.2, accent: true },
          { note: 60, accent: true },
        ],
      },
    ]
    const lit = expectPicture(
      { strategy, patterns: hits(rows, { accentTimes: 1.2 }) },
      `
      38     |=...=...=...|
      38 v120|............|
      fern   |Aa..Bb..Cc..|
      `,
    )
    expect(
      lit.flatMap(({ voice }) => (voice ? [[voice.velocity, Number(voice.duty?.toFixed(6))]] : [])),
    ).toEqual([
      [100, 0.2],
      [120, 0.24],
      // The part's own duty, 0.5, where nothing moves it.
      [120, 0.6],
    ])
  })
})

describe('steps: moved by the clock', () => {
  test('the first hit is the first step; then one comes each division, whatever is played', () => {
    expectPicture(
      { strategy, columnMs: 62.5, patterns: clocked([{ lamp: 'fern', steps: [60, 0, 64] }]) },
      `
      38   |=...............|
      fern |A...A.A...A.A...|
      `,
    )
  })

  test('a gate of one step leaves no darkness, one of two sounds over a rest', () => {
    expectPicture(
      { strategy, columnMs: 62.5, patterns: clocked([{ lamp: 'fern', steps: [60, 64] }], { gate: 1 }) },
      `
      38   |=.......|
      fern |AaAaAaAa|
      `,
    )
    expectPicture(
      {
        strategy,
        columnMs: 62.5,
        patterns: clocked([{ lamp: 'fern', steps: [{ note: 60, gate: 2 }, 0, 0] }]),
      },
      `
      38   |=............|
      fern |Aaaa..Aaaa..A|
      `,
    )
  })

  test('swing makes every second step late, by row or for all', () => {
    expectPicture(
      {
        strategy,
        columnMs: 62.5,
        patterns: clocked(
          [
            { lamp: 'fern', steps: [60] },
            { lamp: 'moss', steps: [60], swing: 0 },
          ],
          { swing: 0.5 },
        ),
      },
      `
      38   |=.........|
      fern |A..AA..AA.|
      moss |A.A.A.A.A.|
      `,
    )
  })

  test('a hit while it runs only says how loud', () => {
    const lit = expectPicture(
      { strategy, columnMs: 62.5, patterns: clocked([{ lamp: 'fern', steps: [60] }]) },
      `
      38     |=.......|
      38 v40 |...=....|
      fern   |A.A.B.B.|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.velocity ?? [])).toEqual([100, 100, 40, 40])
  })

  test('both: hits move it besides', () => {
    const lit = expectPicture(
      {
        strategy,
        columnMs: 62.5,
        patterns: clocked([{ lamp: 'fern', steps: [60, 61, 62, 63, 64] }], { advance: 'both', gateMs: 62.5 }),
      },
      `
      38   |=....=..|
      fern |A.A.ABB.|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 61, 62, 63, 64])
  })

  test('a new tempo: the rest of the step, and of what sounds, takes its share of the new one', () => {
    // 1/16 at 120 is 125 ms. Half way through the third step the tempo halves: 62.5 ms of it are left, so 125 ms.
    expectPicture(
      { strategy, columnMs: 31.25, patterns: clocked([{ lamp: 'fern', steps: [60] }], { gate: 0.75 }) },
      `
      tempo |..........h.............|
      38    |=.......................|
      fern  |Aaa.Aaa.Aaaa..Aaaaaa..Aa|
      `,
    )
  })
})

describe('steps: pads', () => {
  const row = { lamp: 'fern', steps: [60, 61, 62, 63] }

  test('where there are pads to advance by, other keys do nothing', () => {
    const patterns = hits([row], { pads: [{ key: 38, do: 'advance' }] })
    expectPicture(
      { strategy, patterns },
      `
      38   |=...=...|
      36   |..=...=.|
      fern |Aa..Cc..|
      `,
    )
  })

  test('back goes a step back, restart to before the first, in silence', () => {
    const pads = [
      { key: 40, do: 'back' },
      { key: 41, do: 'restart' },
    ]
    const lit = expectPicture(
      { strategy, patterns: hits([row], { pads, gateMs: 40 }) },
      `
      38   |=....=....=.........=....|
      40   |...............=.........|
      41   |............=............|
      fern |Aaaa.Bbbb.Cc...Eeee.Ffff.|
      `,
    )
    // Before the first step, a step back is the last one.
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 61, 62, 63, 60])
  })

  test('restart begins a clocked pattern at once, stop ends it until the next hit', () => {
    const pads = [
      { key: 41, do: 'restart' },
      { key: 43, do: 'stop' },
    ]
    const lit = expectPicture(
      { strategy, columnMs: 62.5, patterns: clocked([row], { pads, gate: 1 }) },
      `
      38   |=...............=..|
      41   |.....=.............|
      43   |..........=........|
      fern |AaAaABbBbB......DdD|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 61, 62, 60, 61, 62, 60, 61])
  })

  test('next-pattern goes round in the song’s order, each from its first step', () => {
    const pads = [{ key: 40, do: 'next-pattern' }]
    const lit = expectPicture(
      {
        strategy,
        options: { pattern: 'two' },
        patterns: [
          { id: 'one', gateMs: 10, pads, rows: [{ lamp: 'fern', steps: [60, 61] }] },
          { id: 'two', gateMs: 10, pads, rows: [{ lamp: 'moss', steps: [70, 71] }] },
        ],
      },
      `
      38   |=.=...=...=.|
      40   |....=...=...|
      fern |......D.....|
      moss |A.B.......F.|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([70, 71, 60, 70])
  })

  test('a clocked pattern comes in at its own division, counted from where the clock was started', () => {
    const pads = [{ key: 40, do: 'next-pattern' }]
    expectPicture(
      {
        strategy,
        columnMs: 62.5,
        patterns: [
          ...clocked([{ lamp: 'fern', steps: [60] }], { pads }),
          {
            id: 'eight',
            advance: 'clock',
            division: '1/8',
            gate: 0.25,
            rows: [{ lamp: 'moss', steps: [60] }],
          },
        ],
      },
      `
      38   |=.............|
      40   |...=..........|
      fern |A.A...........|
      moss |....A...A...A.|
      `,
    )
  })

  test('a muted row is dark at once and goes on counting', () => {
    const rows = [
      { lamp: 'fern', steps: [60, 61, 62, 63] },
      { lamp: 'moss', steps: [70, 71, 72, 73], muted: true },
    ]
    const pads = [
      { key: 40, do: 'mute-row', row: 'fern' },
      { key: 41, do: 'mute-row', row: 'moss' },
    ]
    const lit = expectPicture(
      { strategy, patterns: hits(rows, { pads, gateMs: 40 }) },
      `
      38   |=....=....=....=....|
      40   |.=..........=.......|
      41   |........=...........|
      fern |A..............Gggg.|
      moss |..........Eeee.Gggg.|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 72, 63, 73])
  })

  test('accent: the next step that sounds is accented, all its rows', () => {
    const pads = [{ key: 40, do: 'accent' }]
    const lit = expectPicture(
      {
        strategy,
        patterns: hits([{ lamp: 'fern', steps: [60, 0, 62] }], { pads, accentTimes: 1.1 }),
      },
      `
      38   |=...=...=...=...|
      40   |..=.............|
      fern |Aa......Dd..Ee..|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.velocity ?? [])).toEqual([100, 110, 100])
  })

  test('a pad’s own note lasts as long as the hit, unless a row strikes the lamp; later ends are nothing to it', () => {
    const pads = [
      { key: 42, do: 'note', lamp: 'moss', note: 72 },
      { key: 43, do: 'note', lamp: 'fern', note: 74 },
    ]
    const lit = expectPicture(
      { strategy, patterns: hits([{ lamp: 'fern', steps: [60] }], { pads }) },
      `
      38   |......=.......|
      42   |.====.........|
      43   |...=====......|
      fern |...BbbCc......|
      moss |.Aaaa.........|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([72, 74, 60])
  })

  test('of two pads’ notes on a lamp the later sounds, then the one that still lasts', () => {
    const pads = [
      { key: 42, do: 'note', lamp: 'fern', note: 72 },
      { key: 43, do: 'note', lamp: 'fern', note: 74 },
    ]
    expectPicture(
      { strategy, patterns: hits([], { pads }) },
      `
      42       |========..|
      43       |..===.....|
      fern not |......x...|
      fern     |AaBbbA.A..|
      `,
    )
  })
})

describe('steps: lamps that go, and ends', () => {
  const rows = [{ lamp: 'fern', steps: [60, 61, 62, 63, 64] }]

  test('a lamp that is another’s misses its strikes, and the count goes on', () => {
    const lit = expectPicture(
      { strategy, patterns: hits(rows) },
      `
      38       |=...=...=...=...|
      fern not |...xxxxxxx......|
      fern     |Aa..........Dd..|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 63])
  })

  test('a lamp that is taken while it sounds stays out until its next step', () => {
    expectPicture(
      { strategy, patterns: hits(rows, { gateMs: 60 }) },
      `
      38       |=.......=.......|
      fern not |..x.............|
      fern     |Aa......Bbbbbb..|
      `,
    )
  })

  test('a refused strike is not tried again', () => {
    const lit = expectPicture(
      { strategy, patterns: hits(rows) },
      `
      38      |=...=...=...|
      fern no |...xxx......|
      fern    |Aa......Cc..|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 62])
  })

  test('all off: dark, nothing late comes any more, and the next hit plays the first step', () => {
    const lit = expectPicture(
      { strategy, columnMs: 62.5, patterns: clocked(rows, { swing: 0.75, gate: 2 }) },
      `
      all off |...!.......|
      38      |=.......=..|
      fern    |Aaa.....Bbb|
      `,
    )
    expect(lit.flatMap(({ voice }) => voice?.key ?? [])).toEqual([60, 60])
  })

  test('chance: what is never struck is dark, what always is comes each time', () => {
    const patterns = clocked([
      { lamp: 'fern', steps: [{ note: 60, chance: 0 }] },
      { lamp: 'moss', steps: [{ note: 60, chance: 1 }] },
    ])
    expectPicture(
      { strategy, columnMs: 125, patterns },
      `
      38   |=...|
      fern |....|
      moss |!!!!|
      `,
    )
  })
})
