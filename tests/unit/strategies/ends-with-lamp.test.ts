import { describe, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'

/** What sounds on a lamp that another part takes ends there. */
const onLost = 'end'

describe.each(['lowest-free', 'rotate', 'nearest'])('%s', (strategy) => {
  test('the note is over, though a lamp is free and its key is down; others sound on, and its end is nobody’s', () => {
    expectPicture(
      { strategy, options: { resume: true }, onLost },
      `
      60       |=======..|
      64       |=========|
      fern not |..xx.....|
      fern     |Aa.......|
      moss     |Bbbbbbbbb|
      reed     |.........|
      `,
    )
  })
})

describe('unison', () => {
  test('the voice leaves the lamp for good and sounds on; the next note has it again', () => {
    expectPicture(
      { strategy: 'unison', onLost },
      `
      60       |=======...|
      64       |.....===..|
      fern not |..xx......|
      fern     |Aa...Bbb..|
      moss     |Aaaaabbb..|
      `,
    )
  })

  test('back to a note that ended on the lamp, the lamp stays dark', () => {
    expectPicture(
      { strategy: 'unison', onLost },
      `
      60       |========..|
      64       |....==....|
      fern not |.xx.......|
      fern     |A...Bb....|
      moss     |Aaaabbaa..|
      `,
    )
  })

  test('with its last lamp the voice is over, and so are the notes held under it', () => {
    expectPicture(
      { strategy: 'unison', onLost },
      `
      60       |=========.|
      62       |.======...|
      64       |......===.|
      fern not |..xxx.....|
      fern     |Ab....Ccc.|
      `,
    )
  })

  test('a key corrected after the loss does not bring the lamp back', () => {
    expectPicture(
      { strategy: 'unison', onLost },
      `
      48       |====^===|
      fern not |..x.....|
      fern     |Aa......|
      moss     |Aaaaaaaa|
      `,
    )
  })
})

test('partials: the partial of the lamp is missing until the next note', () => {
  expectPicture(
    { strategy: 'partials', onLost },
    `
    60       |=====....|
    64       |......==.|
    moss not |.xx......|
    fern     |Aaaaa.Bb.|
    moss     |A.....Bb.|
    reed     |Aaaaa.Bb.|
    `,
  )
})

test('chime: the lamp stays dark until its key is struck again', () => {
  expectPicture(
    { strategy: 'chime', options: { notes: [60, 64] }, onLost },
    `
    60       |=====#=.|
    64       |=======.|
    fern not |.xx.....|
    fern     |A....Cc.|
    moss     |Bbbbbbb.|
    `,
  )
})

test('chime: two lamps of one key, of which one is taken: the other sounds on and ends with its note', () => {
  expectPicture(
    { strategy: 'chime', options: { notes: [60, 60] }, onLost },
    `
    60       |=====.|
    fern not |.xx...|
    fern     |A.....|
    moss     |Aaaaa.|
    `,
  )
})

test('canon: the lamp is silent until its next turn; the lamps after it still answer', () => {
  expectPicture(
    { strategy: 'canon', options: { delayMs: 20 }, onLost },
    `
    60       |======......|
    64       |......==....|
    moss not |...xx.......|
    fern     |AaaaaaBb....|
    moss     |..A.....Bb..|
    reed     |....AaaaaaBb|
    `,
  )
})

describe('travel', () => {
  test('one lamp wide, the voice is over until the next note', () => {
    expectPicture(
      { strategy: 'travel', onLost },
      `
      60       |======....|
      64       |......===.|
      fern not |..xx......|
      fern     |Aa........|
      moss     |......Bbb.|
      `,
    )
  })

  test('moved by the clock, it does not come back either', () => {
    expectPicture(
      { strategy: 'travel', options: { move: { everyMs: 20 } }, onLost },
      `
      60       |==========|
      moss not |...xx.....|
      fern     |Aa........|
      moss     |..A.......|
      reed     |..........|
      `,
    )
  })

  test('wider, it is narrower until it moves, and has its width again from there', () => {
    expectPicture(
      { strategy: 'travel', options: { move: { everyMs: 60 }, width: 2 }, onLost },
      `
      60       |==========|
      fern not |..xx......|
      fern     |Aa........|
      moss     |Aaaaaaaaaa|
      reed     |......Aaaa|
      `,
    )
  })

  test('a lamp that it has left and that still sounds goes dark, no more', () => {
    expectPicture(
      { strategy: 'travel', options: { move: { everyMs: 20 }, overlapMs: 30 }, onLost },
      `
      60       |======....|
      fern not |...x......|
      fern     |Aaa.......|
      moss     |..Aaaa....|
      reed     |....Aa....|
      `,
    )
  })
})
