import { describe, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'nearest'

describe('nearest', () => {
  test('a new note takes the free lamp whose last pitch is closest', () => {
    expectPicture(
      { strategy },
      `
      40   |==........|
      60   |==........|
      80   |==........|
      79   |...==.....|
      42   |...==..==.|
      58   |......==..|
      63   |.......==.|
      fern |Aa.Ee..Gg.|
      moss |Bb....Ff..|
      reed |Cc.Dd..Hh.|
      `,
    )
  })

  test('of equally close lamps, and of those that have not sounded, the earlier; a lamp without a past comes last', () => {
    expectPicture(
      { strategy },
      `
      60   |=.=.......|
      90   |..=.......|
      75   |....==....|
      20   |.....==...|
      fern |A.B.Dd....|
      moss |..C..Ee...|
      reed |..........|
      `,
    )
  })

  test.each([
    ['oldest', 'AaCc', '.Bbb'],
    ['quietest', 'Aaaa', '.BCc'],
    ['lowest', 'AaCc', '.Bbb'],
    ['highest', 'Aaaa', '.BCc'],
    ['none', 'Aaaa', '.Bbb'],
  ])('steal: %s', (steal, fern, moss) => {
    expectPicture(
      { strategy, options: { steal } },
      `
      60 v90 |====|
      70 v20 |.===|
      65     |..==|
      fern   |${fern}|
      moss   |${moss}|
      `,
    )
  })

  test('a corrected key is the lamp’s last pitch', () => {
    // Fern was struck with 40 and sounded 52: it is nearer to 50 than moss with 42.
    expectPicture(
      { strategy },
      `
      40   |=^.....|
      42   |==.....|
      50   |....==.|
      fern |Aa..Cc.|
      moss |Bb.....|
      `,
    )
  })

  test('a lost lamp: the note goes to the closest free one, and without one it is over', () => {
    expectPicture(
      { strategy },
      `
      40       |=........|
      60       |=........|
      62       |..=======|
      moss not |....xxxxx|
      fern not |......xx.|
      fern     |A...Cc...|
      moss     |B.Cc.....|
      `,
    )
  })
})
