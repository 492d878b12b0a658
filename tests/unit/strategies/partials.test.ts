import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'partials'

describe('partials', () => {
  test('lamp n sounds the n-th partial', () => {
    const lit = expectPicture(
      { strategy },
      `
      40    |===|
      fern  |Aaa|
      moss  |Aaa|
      reed  |Aaa|
      sedge |Aaa|
      `,
    )
    expect(lit.map(({ voice }) => [voice?.key, voice?.ratio, voice?.cents])).toEqual([
      [40, 1, 0],
      [40, 2, 0],
      [40, 3, 0],
      [40, 4, 0],
    ])
  })

  test('ratios of one’s own; a lamp beyond the list stays dark', () => {
    const lit = expectPicture(
      { strategy, options: { ratios: [1, 1.5] } },
      `
      40    |===.|
      fern  |Aaa.|
      moss  |Aaa.|
      reed  |....|
      `,
    )
    expect(lit.map(({ lamp, voice }) => [lamp, voice?.ratio])).toEqual([
      ['fern', 1],
      ['moss', 1.5],
      ['fern', undefined],
      ['moss', undefined],
    ])
  })

  test.each([
    ['last', 'Abbcaa.'],
    ['low', 'Abbbaa.'],
    ['high', 'Aaacaa.'],
    ['first', 'Aaaaaa.'],
  ])('goes back to a held note by priority %s, legato', (priority, lamp) => {
    expectPicture(
      { strategy, options: { priority } },
      `
      50   |======.|
      45   |.===...|
      55   |...=...|
      fern |${lamp}|
      moss |${lamp}|
      `,
    )
  })

  test('a lamp given back joins with its own partial', () => {
    const lit = expectPicture(
      { strategy },
      `
      50       |=====.|
      moss not |.xx...|
      fern     |Aaaaa.|
      moss     |A..Aa.|
      `,
    )
    expect(lit.filter(({ at }) => at === 30_000).map(({ voice }) => voice?.ratio)).toEqual([2])
  })
})
