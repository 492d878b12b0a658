import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'unison'

/** Four keys, the earlier ones held longer. */
function expectWalk(priority: string, lamp: string): void {
  const lit = expectPicture(
    { strategy, options: { priority } },
    `
        62   |==========.|
        60   |.=======...|
        67   |..====.....|
        64   |...==......|
        fern |${lamp}|
        moss |${lamp}|
        `,
  )
  // Dark once, at the very end.
  expect(lit.filter(({ voice }) => voice === null).map(({ at }) => at)).toEqual([100_000, 100_000])
}

describe('unison', () => {
  test('one voice on all lamps, struck out of silence', () => {
    expectPicture(
      { strategy },
      `
      60   |.==..=#=.|
      fern |.Aa..BCc.|
      moss |.Aa..BCc.|
      `,
    )
  })

  describe('walks back through the keys still held, with no dark gap and no strike', () => {
    test('last', () => expectWalk('last', 'Abcddcbbaa.'))
    test('low', () => expectWalk('low', 'Abbbbbbbaa.'))
    test('high', () => expectWalk('high', 'Aaccccaaaa.'))
    test('first', () => expectWalk('first', 'Aaaaaaaaaa.'))
  })

  test.each(['last', 'low', 'high'])('of two strikes of one key the later sounds: %s', (priority) => {
    expectPicture(
      { strategy, options: { priority } },
      `
      60     |=====.|
      60 v40 |..==..|
      fern   |Aabba.|
      `,
    )
  })

  test('retrigger strikes the lamps on legato notes too, also on the way back', () => {
    expectPicture(
      { strategy, options: { retrigger: true } },
      `
      60   |=======.|
      64   |..==....|
      fern |AaBbAaa.|
      `,
    )
  })

  test('detunes lamp by lamp; lamps beyond the list are not detuned', () => {
    const lit = expectPicture(
      { strategy, options: { detuneCents: [-7, 7.5] } },
      `
      60   |===|
      fern |Aaa|
      moss |Aaa|
      reed |Aaa|
      `,
    )
    expect(lit.map(({ lamp, voice }) => [lamp, voice?.cents, voice?.ratio])).toEqual([
      ['fern', -7, 1],
      ['moss', 7.5, 1],
      ['reed', 0, 1],
    ])
  })

  test('spread evenly over the lamps, half of it below the pitch and half above, upon what each has by itself', () => {
    const picture = `
      60   |===|
      fern |Aaa|
      moss |Aaa|
      reed |Aaa|
      `
    const spread = expectPicture({ strategy, options: { spreadCents: 20 } }, picture)
    expect(spread.map(({ voice }) => voice?.cents)).toEqual([-10, 0, 10])
    const both = expectPicture({ strategy, options: { spreadCents: 20, detuneCents: [1] } }, picture)
    expect(both.map(({ voice }) => voice?.cents)).toEqual([-9, 0, 10])
    const alone = expectPicture(
      { strategy, options: { spreadCents: 20 } },
      `
      60   |===|
      fern |Aaa|
      `,
    )
    expect(alone.map(({ voice }) => voice?.cents)).toEqual([0])
  })

  test('a note on the pedal counts as held', () => {
    expectPicture(
      { strategy },
      `
      60   |==____.|
      64   |...==..|
      fern |Aaabba.|
      `,
    )
  })

  test('a lamp that another part takes stays dark until it is given back', () => {
    expectPicture(
      { strategy },
      `
      60       |========.|
      64       |...===...|
      fern not |..xx.....|
      moss not |.....xxxx|
      fern     |Aa..Bbaa.|
      moss     |Aaabb....|
      `,
    )
  })

  test('a refused lamp is asked again with the next note', () => {
    expectPicture(
      { strategy },
      `
      60       |====.|
      62       |..==.|
      fern no  |x....|
      fern     |..Bb.|
      moss     |Aabb.|
      `,
    )
  })

  test('a corrected key moves the voice without a strike', () => {
    const lit = expectPicture(
      { strategy },
      `
      48   |==^=v=.|
      fern |Aaaaaa.|
      `,
    )
    expect(lit.map(({ voice, strike }) => [voice?.key, strike])).toEqual([
      [48, true],
      [60, false],
      [36, false],
      [undefined, false],
    ])
  })

  test('retrigger does not strike for a corrected key', () => {
    expectPicture(
      { strategy, options: { retrigger: true } },
      `
      48   |==^==.|
      fern |Aaaaa.|
      `,
    )
  })

  test('a correction of a note that does not sound can make it the one that does', () => {
    expectPicture(
      { strategy, options: { priority: 'low' } },
      `
      50   |=======|
      60   |.==v=..|
      fern |Aaabbaa|
      `,
    )
  })

  test('all off ends it, also the notes held beneath', () => {
    expectPicture(
      { strategy },
      `
      60      |======|
      64      |.==...|
      all off |..!...|
      fern    |Ab....|
      `,
    )
  })
})
