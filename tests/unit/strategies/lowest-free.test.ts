import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'
import { StrategyStage } from '../../support/strategy-stage.ts'

const strategy = 'lowest-free'

/** Struck in the order 64 60 67 62, of which 62 is the quietest, then 72. */
function expectFifth(steal: string, resume: boolean, lamps: string): void {
  expectPicture(
    { strategy, options: { steal, resume } },
    `
        64 v90 |==========|
        60 v80 |.=========|
        67 v70 |..========|
        62 v20 |...=======|
        72 v99 |.....===..|
        ${lamps}
        `,
  )
}

describe('lowest-free', () => {
  test('a pedal note keeps lamp 1 while an overlapping legato line alternates between 2 and 3 (common practice, no source)', () => {
    expectPicture(
      { strategy },
      `
      36    |====================|
      60    |..====.......====...|
      62    |.....====...........|
      64    |........====........|
      65    |...........====.....|
      fern  |Aaaaaaaaaaaaaaaaaaaa|
      moss  |..Bbbb..Dddd.Ffff...|
      reed  |.....Cccc..Eeee.....|
      sedge |....................|
      `,
    )
  })

  test('takes the first free lamp in the part’s order, and goes back to it', () => {
    expectPicture(
      { strategy },
      `
      60   |===..==...|
      62   |.===..====|
      64   |..===.....|
      reed |Aaa..Dd...|
      fern |.Bbb..Eeee|
      moss |..Ccc.....|
      `,
    )
  })

  test('a chord takes the lamps in order, a note struck again strikes its lamp again', () => {
    expectPicture(
      { strategy },
      `
      60   |==#=.|
      64   |====.|
      fern |AaCc.|
      moss |Bbbb.|
      `,
    )
  })

  describe('a fifth note on four lamps', () => {
    test('steals from the oldest, which comes back when the fifth ends', () => {
      expectFifth(
        'oldest',
        true,
        `fern   |AaaaaEeeAa|
        moss   |.Bbbbbbbbb|
        reed   |..Cccccccc|
        sedge  |...Ddddddd|`,
      )
    })

    test('steals from the quietest', () => {
      expectFifth(
        'quietest',
        true,
        `fern   |Aaaaaaaaaa|
        moss   |.Bbbbbbbbb|
        reed   |..Cccccccc|
        sedge  |...DdEeeDd|`,
      )
    })

    test('steals from the lowest', () => {
      expectFifth(
        'lowest',
        true,
        `fern   |Aaaaaaaaaa|
        moss   |.BbbbEeeBb|
        reed   |..Cccccccc|
        sedge  |...Ddddddd|`,
      )
    })

    test('steals from the highest', () => {
      expectFifth(
        'highest',
        true,
        `fern   |Aaaaaaaaaa|
        moss   |.Bbbbbbbbb|
        reed   |..CccEeeCc|
        sedge  |...Ddddddd|`,
      )
    })

    test('steals from none: it is not heard', () => {
      expectFifth(
        'none',
        true,
        `fern   |Aaaaaaaaaa|
        moss   |.Bbbbbbbbb|
        reed   |..Cccccccc|
        sedge  |...Ddddddd|`,
      )
    })

    test('without resume the stolen note stays away, and its end does not darken the thief’s lamp', () => {
      expectFifth(
        'oldest',
        false,
        `fern   |AaaaaEee..|
        moss   |.Bbbbbbbbb|
        reed   |..Cccccccc|
        sedge  |...Ddddddd|`,
      )
      expectPicture(
        { strategy, options: { resume: false } },
        `
        60   |===...|
        64   |..====|
        fern |AaBbbb|
        `,
      )
    })
  })

  test.each(['oldest', 'quietest', 'lowest', 'highest'])(
    'notes that only a pedal holds go first: %s',
    (steal) => {
      // By every rule but the pedal's the first note would go: 60 is older, quieter and lower; 72 is higher.
      const other = steal === 'highest' ? 48 : 72
      expectPicture(
        { strategy, options: { steal } },
        `
        60 v10 |=======|
        ${other} v90 |.==____|
        65 v50 |....===|
        fern   |Aaaaaaa|
        moss   |.BbbCcc|
        `,
      )
    },
  )

  test.each(['quietest', 'lowest', 'highest'])('of equals the older goes: %s', (steal) => {
    expectPicture(
      { strategy, options: { steal, resume: false } },
      `
      60   |====|
      60   |.===|
      62   |..==|
      fern |AaCc|
      moss |.Bbb|
      `,
    )
  })

  test('a pedalled note that was robbed does not come back', () => {
    expectPicture(
      { strategy },
      `
      60   |==_____|
      64   |...==..|
      fern |AaaBb..|
      `,
    )
  })

  test('a stolen note whose key goes up meanwhile does not come back, whatever the pedal does', () => {
    expectPicture(
      { strategy },
      `
      60   |===____|
      64   |.====..|
      fern |ABbbb..|
      `,
    )
  })

  test('of several stolen notes the one struck last comes back first', () => {
    expectPicture(
      { strategy },
      `
      60   |==========|
      62   |.=======..|
      64   |..=====...|
      65   |...===....|
      fern |ABCDddCBAa|
      `,
    )
  })

  test('a note that found no lamp comes when one frees, but not without resume', () => {
    expectPicture(
      { strategy, options: { steal: 'none' } },
      `
      60   |====..|
      64   |..===.|
      fern |AaaaB.|
      `,
    )
    expectPicture(
      { strategy, options: { steal: 'none', resume: false } },
      `
      60   |====..|
      64   |..===.|
      fern |Aaaa..|
      `,
    )
  })

  test('a note that loses its lamp moves to a free one and stays there', () => {
    expectPicture(
      { strategy },
      `
      60       |======.|
      fern not |..xx...|
      fern     |Aa.....|
      moss     |..Aaaa.|
      `,
    )
  })

  test('a note that loses the only lamp waits for it', () => {
    expectPicture(
      { strategy },
      `
      60       |=======.|
      fern not |..xxx...|
      fern     |Aa...Aa.|
      `,
    )
  })

  test('another part’s lamp is not taken', () => {
    expectPicture(
      { strategy },
      `
      60       |====.|
      fern not |xxx..|
      fern     |.....|
      moss     |Aaaa.|
      `,
    )
  })

  test('a refused note tries the other free lamps; one that is refused everywhere waits', () => {
    expectPicture(
      { strategy },
      `
      64       |.=====.|
      60       |..=====|
      fern no  |xxxxxxx|
      moss no  |xxxxxxx|
      fern     |.......|
      moss     |.......|
      reed     |.AaaaaB|
      `,
    )
  })

  test('a thief out of the lamp’s range leaves it to the note it robbed, and sounds on a lamp that can when one frees', () => {
    expectPicture(
      { strategy, highestKey: { fern: 70 } },
      `
      60   |========|
      62   |.===....|
      90   |..=====.|
      fern |AaAaaaaa|
      moss |.BbbCcc.|
      `,
    )
  })

  test('a refusal of a note that is not on the lamp any more is nobody’s concern', () => {
    const stage = new StrategyStage({ strategy, options: {}, lamps: ['fern', 'moss'], tempo: 120 })
    stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
    stage.play({ kind: 'note-off', id: 1 })
    stage.play({ kind: 'note-on', note: { id: 2, key: 62, channel: 1, velocity: 90 } })
    stage.play({ kind: 'refused', lamp: 'fern', id: 1, reason: 'supply' })
    stage.play({ kind: 'note-off', id: 2 })
    expect(stage.moments.map(({ lamp, voice }) => [lamp, voice?.note])).toEqual([
      ['fern', 1],
      ['fern', undefined],
      ['fern', 2],
      ['fern', undefined],
    ])
  })

  test('a key corrected by an octave changes the voice without a strike', () => {
    const lit = expectPicture(
      { strategy },
      `
      48   |==^==.|
      fern |Aaaaa.|
      `,
    )
    expect(lit.map(({ at, voice, strike }) => [at, voice?.key, strike])).toEqual([
      [0, 48, true],
      [20_000, 60, false],
      [50_000, undefined, false],
    ])
  })

  test('all off darkens every lamp, and nothing waits any more', () => {
    expectPicture(
      { strategy },
      `
      60      |=======|
      62      |.======|
      64      |..=====|
      all off |...!...|
      fern    |AaC....|
      moss    |.Bb....|
      `,
    )
  })
})
