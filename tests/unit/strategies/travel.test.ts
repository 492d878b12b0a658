import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'
import { StrategyStage } from '../../support/strategy-stage.ts'

const strategy = 'travel'

/** Nine notes on five lamps, one after the other with no gap between. */
const expectOverFive = (path: unknown, [fern, moss, reed, sedge, rush]: readonly string[], move?: unknown) =>
  expectPicture(
    { strategy, options: { path, ...(move ? { move } : {}) } },
    `
    60    |=#=#=#=#=#=|
    fern  |${fern}|
    moss  |${moss}|
    reed  |${reed}|
    sedge |${sedge}|
    rush  |${rush}|
    `,
  )

describe('travel: the way', () => {
  test('pendulum on five lamps: neither end twice', () => {
    expectPicture(
      { strategy, options: { path: 'pendulum', move: { everyMs: 10 } } },
      `
      60    |===================|
      fern  |A.......A.......A..|
      moss  |.A.....A.A.....A.A.|
      reed  |..A...A...A...A...A|
      sedge |...A.A.....A.A.....|
      rush  |....A.......A......|
      `,
    )
  })

  test('forward starts at the part’s first lamp', () => {
    expectOverFive('forward', ['A........Ff', '.Bb........', '...Cc......', '.....Dd....', '.......Ee..'])
  })

  test('backward starts at its last', () => {
    expectOverFive('backward', ['.......Ee..', '.....Dd....', '...Cc......', '.Bb........', 'A........Ff'])
  })

  test('inward goes from the outside in, side by side', () => {
    expectOverFive('inward', ['A........Ff', '...Cc......', '.......Ee..', '.....Dd....', '.Bb........'])
  })

  test('outward goes from the middle out', () => {
    expectOverFive('outward', ['.......Ee..', '...Cc......', 'A........Ff', '.Bb........', '.....Dd....'])
  })

  test('lamps by name in the order they are visited, some twice', () => {
    expectOverFive(
      ['reed', 'fern', 'reed', 'rush'],
      ['.Bb......Ff', '...........', 'A..Cc..Ee..', '...........', '.....Dd....'],
    )
  })

  test('shuffle visits every lamp once a round, in ever new orders, and never one twice running', () => {
    const stage = new StrategyStage({
      strategy,
      options: { path: 'shuffle', move: { everyMs: 10 } },
      lamps: ['fern', 'moss', 'reed', 'sedge', 'rush'],
      tempo: 120,
    })
    stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
    stage.advance(49_990_000)
    const visits = stage.moments.filter(({ voice }) => voice).map(({ lamp }) => lamp)
    expect(visits).toHaveLength(5_000)
    const orders = new Set<string>()
    for (let round = 0; round < visits.length; round += 5) {
      const order = visits.slice(round, round + 5)
      expect(new Set(order).size).toBe(5)
      orders.add(order.join(' '))
    }
    // There are 120.
    expect(orders.size).toBeGreaterThan(110)
    expect(visits.some((lamp, index) => lamp === visits[index + 1])).toBe(false)
  })

  test('short notes under a shuffle that moves in time do not share one lamp', () => {
    const stage = new StrategyStage({
      strategy,
      options: { path: 'shuffle', move: { every: '1/1' } },
      lamps: ['fern', 'moss', 'reed'],
      tempo: 120,
    })
    for (let id = 1; id <= 9; id++) {
      stage.play({ kind: 'note-on', note: { id, key: 60, channel: 1, velocity: 90 } })
      stage.play({ kind: 'note-off', id })
    }
    const struck = stage.moments.filter(({ strike }) => strike).map(({ lamp }) => lamp)
    expect([...struck].sort().join(' ')).toBe('fern fern fern moss moss moss reed reed reed')
  })
})

describe('travel: the voice', () => {
  test('moves with each new note, not on the way back to a held one', () => {
    expectPicture(
      { strategy },
      `
      60   |======..|
      64   |..==....|
      62   |.......=|
      fern |Aa......|
      moss |..Bbaa..|
      reed |.......C|
      `,
    )
  })

  test.each(['low', 'first'])('a new note that does not sound (priority %s) does not move it', (priority) => {
    expectPicture(
      { strategy, options: { priority } },
      `
      60   |=====.|
      64   |..==..|
      fern |Aaaaa.|
      moss |......|
      `,
    )
  })

  test('high: the higher note moves it on', () => {
    expectPicture(
      { strategy, options: { priority: 'high' } },
      `
      60   |=====.|
      64   |..==..|
      fern |Aa....|
      moss |..Bba.|
      `,
    )
  })

  test('a voice that moves in time keeps its pace through legato notes, and starts its way anew out of silence', () => {
    expectPicture(
      { strategy, options: { move: { everyMs: 20 } } },
      `
      60   |======....|
      64   |...===....|
      67   |.......==.|
      fern |Aa.....Cc.|
      moss |..Ab......|
      reed |....Bb....|
      `,
    )
  })

  test('width: it covers that many lamps, and those that stay covered are not struck again', () => {
    expectPicture(
      { strategy, options: { width: 2, move: { everyMs: 20 } } },
      `
      60    |========.|
      fern  |Aa....Aa.|
      moss  |Aaaa.....|
      reed  |..Aaaa...|
      sedge |....Aaaa.|
      `,
    )
  })

  test('width under move by note: a lamp that stays takes the new note without a strike', () => {
    expectPicture(
      { strategy, options: { width: 2 } },
      `
      60    |====..|
      64    |..==..|
      fern  |Aa....|
      moss  |Aabb..|
      reed  |..Bb..|
      `,
    )
  })

  test('overlapMs: a lamp that is left sounds on for that long, but not after the note', () => {
    expectPicture(
      { strategy, options: { overlapMs: 10, move: { everyMs: 20 } } },
      `
      60   |=====..|
      fern |Aaa....|
      moss |..Aaa..|
      reed |....A..|
      `,
    )
  })

  test('an overlap longer than the round: a lamp come back to is struck and stays', () => {
    expectPicture(
      { strategy, options: { overlapMs: 50, move: { everyMs: 20 } } },
      `
      60   |==========.|
      fern |AaaaAaaaAa.|
      moss |..AaaaAaaa.|
      `,
    )
  })

  test('a corrected key moves nothing and strikes nothing', () => {
    expectPicture(
      { strategy },
      `
      48   |==^==.|
      fern |Aaaaa.|
      moss |......|
      `,
    )
  })

  test('all off: dark, also what was overlapping, and no move comes after', () => {
    expectPicture(
      { strategy, options: { overlapMs: 20, move: { everyMs: 20 } } },
      `
      60      |=========|
      all off |...!.....|
      fern    |Aaa......|
      moss    |..A......|
      `,
    )
  })
})

describe('travel: lamps that go', () => {
  test('a lost lamp: the voice goes on to the next, and from there when it is time', () => {
    expectPicture(
      { strategy, options: { move: { everyMs: 30 } } },
      `
      60       |=========|
      moss not |....xx...|
      fern     |Aaa......|
      moss     |...A.....|
      reed     |....Aa...|
      sedge    |......Aaa|
      `,
    )
  })

  test('with no lamp left it waits, and takes the first that comes back', () => {
    expectPicture(
      { strategy },
      `
      60       |========|
      fern not |..xxxx..|
      moss not |.xxx....|
      fern     |Aa......|
      moss     |....Aaaa|
      `,
    )
  })

  test('a lamp given back does not pull the voice off the one it is on', () => {
    expectPicture(
      { strategy },
      `
      60       |======.|
      fern not |.xx....|
      fern     |A......|
      moss     |.Aaaaa.|
      `,
    )
  })

  test('lamps of other parts are passed over', () => {
    expectPicture(
      { strategy, options: { move: { everyMs: 10 } } },
      `
      60       |======|
      moss not |xxx...|
      fern     |A..A..|
      moss     |....A.|
      reed     |.A...A|
      sedge    |..A...|
      `,
    )
  })

  test('a refused lamp is passed over too, each asked once', () => {
    expectPicture(
      { strategy },
      `
      60      |==.==.==|
      moss no |xxxxxxxx|
      fern    |Aa....Cc|
      moss    |........|
      reed    |...Bb...|
      `,
    )
    expectPicture(
      { strategy },
      `
      60      |====|
      moss no |xxxx|
      fern no |xxxx|
      fern    |....|
      moss    |....|
      `,
    )
  })
})
