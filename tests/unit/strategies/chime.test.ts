import { describe, expect, test } from 'vitest'
import { strategies } from '../../../src/strategies/registry.ts'
import { expectPicture } from '../../support/lamp-picture.ts'

const strategy = 'chime'
const options = { notes: [60, 64, 67] }

describe('chime', () => {
  test('each lamp answers to its own note; other notes light nothing', () => {
    expectPicture(
      { strategy, options },
      `
      66   |=========|
      64   |.==...==.|
      60   |..===....|
      67   |...==....|
      fern |..Ccc....|
      moss |.Bb...Ee.|
      reed |...Dd....|
      `,
    )
  })

  test('a note struck again strikes its lamp again', () => {
    expectPicture(
      { strategy, options: { notes: [60] } },
      `
      60   |==#=.|
      fern |AaBb.|
      `,
    )
  })

  test('two lamps may answer to one note', () => {
    expectPicture(
      { strategy, options: { notes: [60, 60] } },
      `
      60   |==.|
      fern |Aa.|
      moss |Aa.|
      `,
    )
  })

  test('two players’ strikes of one key: the later sounds, then the earlier again', () => {
    expectPicture(
      { strategy, options: { notes: [60] } },
      `
      60     |=====.|
      60 v40 |.==...|
      fern   |ABbAa.|
      `,
    )
  })

  test('a corrected key moves the note to the lamp of that key', () => {
    expectPicture(
      { strategy, options: { notes: [48, 60] } },
      `
      48   |==^==.|
      fern |Aa....|
      moss |..Aaa.|
      `,
    )
  })

  test('a lamp that is taken waits with its note; a refused one is not asked again by another key', () => {
    expectPicture(
      { strategy, options },
      `
      60       |=======.|
      64       |..==....|
      67       |.======.|
      fern not |.xx.....|
      reed no  |.x......|
      fern     |A..Aaaa.|
      moss     |..Cc....|
      reed     |........|
      `,
    )
  })

  test('the count of notes must be that of the lamps', () => {
    const chime = strategies.find(({ kind }) => kind === strategy)
    expect(chime?.check?.({ notes: [60, 62] }, ['fern', 'moss', 'reed'])).toEqual([
      { option: 'notes', message: '2 notes for 3 lamps; give exactly one per lamp' },
    ])
    expect(chime?.options.safeParse({}).success).toBe(false)
  })
})
