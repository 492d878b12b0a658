import { describe, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'rotate'

describe('rotate', () => {
  test('each new note takes the next lamp in turn, though an earlier one is free', () => {
    expectPicture(
      { strategy },
      `
      60   |==.=.==#=.|
      fern |Aa.....Dd.|
      moss |...B......|
      reed |.....Cc...|
      `,
    )
  })

  test('free ones first: the turn passes over lamps that sound', () => {
    expectPicture(
      { strategy },
      `
      36   |==========|
      60   |.==..=..=.|
      fern |Aaaaaaaaaa|
      moss |.Bb.....D.|
      reed |.....C....|
      `,
    )
  })

  test('with none free it takes the lamp of the oldest note, which does not come back', () => {
    expectPicture(
      { strategy },
      `
      60   |======|
      62   |.=====|
      64   |..==..|
      65   |...=..|
      fern |AaCc..|
      moss |.BbD..|
      `,
    )
  })

  test.each([
    ['oldest', 'AaaDdd', '.Bbbbb', '..Cccc'],
    ['quietest', 'Aaaaaa', '.BbDdd', '..Cccc'],
    ['lowest', 'Aaaaaa', '.Bbbbb', '..CDdd'],
    ['highest', 'AaaDdd', '.Bbbbb', '..Cccc'],
    ['none', 'Aaaaaa', '.Bbbbb', '..Cccc'],
  ])('steal: %s', (steal, fern, moss, reed) => {
    expectPicture(
      { strategy, options: { steal } },
      `
      70 v90 |======|
      60 v20 |.=====|
      50 v90 |..====|
      65     |...===|
      fern   |${fern}|
      moss   |${moss}|
      reed   |${reed}|
      `,
    )
  })

  test('a note that loses its lamp goes to the next in turn', () => {
    expectPicture(
      { strategy },
      `
      60       |==.===.|
      moss not |....xxx|
      fern     |Aa.....|
      moss     |...B...|
      reed     |....Bb.|
      `,
    )
  })

  test('a refused note takes the one after, once round', () => {
    expectPicture(
      { strategy },
      `
      60      |.==.==.|
      fern no |xxxx...|
      fern    |....Bb.|
      moss    |.Aa....|
      `,
    )
  })
})
