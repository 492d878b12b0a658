import { describe, test } from 'vitest'
import type { RawShow } from '../../support/shows.ts'
import { expectSongPicture } from '../../support/song-picture.ts'

function lead(more: RawShow = {}): RawShow {
  return {
    id: 'lead',
    player: 'keys',
    lamps: ['fern', 'moss', 'reed'],
    strategy: { kind: 'lowest-free' },
    ...more,
  }
}

/** Takes its lamps while it plays, and 20 ms longer. */
function part(id: string, lamps: string[], claim: RawShow = {}, more: RawShow = {}): RawShow {
  const right = { when: 'playing', releaseMs: 20, ...claim }
  return { id, player: id, lamps, strategy: { kind: 'unison' }, claim: right, ...more }
}

describe('a chord under a claim that comes and goes', () => {
  test('what finds no other lamp waits, and comes back when the claim is given back', () => {
    expectSongPicture(
      [lead(), part('low', ['fern', 'moss'])],
      `
      keys 60  |============.|
      keys 64  |============.|
      low 28   |..====.......|
      fern     |AaCccc..Bbbb.|
      moss     |BbCccc.......|
      reed     |..Aaaaaaaaaa.|
      fern for |..llllll.....|
      moss for |..llllll.....|
      reed for |.............|
      `,
    )
  })

  test('a key that goes up meanwhile does not come back', () => {
    expectSongPicture(
      [lead(), part('low', ['fern', 'moss', 'reed'])],
      `
      keys 60  |===========.|
      keys 64  |====........|
      keys 67  |===========.|
      low 28   |..===.......|
      fern     |AaDdd..Cccc.|
      moss     |BbDdd..Aaaa.|
      reed     |CcDdd.......|
      `,
    )
  })

  test('struck while the claim holds, a note waits for it too', () => {
    expectSongPicture(
      [lead({ lamps: ['fern'] }), part('low', ['fern'])],
      `
      keys 60  |..=======.|
      low 28   |====......|
      fern     |Aaaa..Bbb.|
      fern for |llllll....|
      `,
    )
  })

  test.each(['rotate', 'nearest'])('%s: it comes back with resume, and stays away without', (kind) => {
    expectSongPicture(
      [lead({ lamps: ['fern', 'moss'], strategy: { kind, resume: true } }), part('low', ['fern'])],
      `
      keys 60  |=========.|
      keys 64  |=========.|
      low 28   |..===.....|
      fern     |AaCcc..Aa.|
      moss     |Bbbbbbbbb.|
      `,
    )
    expectSongPicture(
      [lead({ lamps: ['fern', 'moss'], strategy: { kind } }), part('low', ['fern'])],
      `
      keys 60  |=========.|
      keys 64  |=========.|
      low 28   |..===.....|
      fern     |AaCcc.....|
      moss     |Bbbbbbbbb.|
      `,
    )
  })
})

describe('what sounds on a lamp that a claim takes', () => {
  const claiming = part('low', ['fern', 'moss'])

  test('moves: to a free lamp, or waits for one', () => {
    expectSongPicture(
      [lead({ onLost: 'move' }), claiming],
      `
      keys 60  |===========.|
      keys 64  |===========.|
      low 28   |..====......|
      fern     |AaCccc..Bbb.|
      moss     |BbCccc......|
      reed     |..Aaaaaaaaa.|
      `,
    )
  })

  test('or ends: not moved, not back, whatever lamp is free; the next note plays as ever', () => {
    expectSongPicture(
      [lead({ onLost: 'end' }), claiming],
      `
      keys 60  |===========.|
      keys 64  |===========.|
      keys 65  |....====....|
      keys 67  |.........==.|
      low 28   |..====......|
      fern     |AaCccc...Ee.|
      moss     |BbCccc......|
      reed     |....Dddd....|
      `,
    )
  })

  test('a voice on several lamps ends on those that are taken, and sounds on; its next note has them all', () => {
    expectSongPicture(
      [lead({ strategy: { kind: 'unison' }, onLost: 'end' }), part('low', ['fern'])],
      `
      keys 60  |==========..|
      keys 64  |........===.|
      low 28   |..===.......|
      fern     |AaBbb...Ccc.|
      moss     |Aaaaaaaaccc.|
      reed     |Aaaaaaaaccc.|
      fern for |..lllll.....|
      `,
    )
  })

  test('moving, it has them back', () => {
    expectSongPicture(
      [lead({ strategy: { kind: 'unison' } }), part('low', ['fern'])],
      `
      keys 60  |==========.|
      low 28   |..===......|
      fern     |AaBbb..Aaa.|
      moss     |Aaaaaaaaaa.|
      reed     |Aaaaaaaaaa.|
      `,
    )
  })
})

describe('two claims on a lamp', () => {
  test('the higher takes it at once, and gives it back to the lower, which sounds again', () => {
    expectSongPicture(
      [part('low', ['fern', 'moss']), part('high', ['moss', 'reed'], { priority: 1 })],
      `
      low 28   |============...|
      high 72  |..====.........|
      fern     |Aaaaaaaaaaaa...|
      moss     |AaBbbb..Aaaa...|
      reed     |..Bbbb.........|
      fern for |llllllllllllll.|
      moss for |llhhhhhhllllll.|
      reed for |..hhhhhh.......|
      `,
    )
  })

  test('the lower does not take it from the higher, and has it once that gives it back', () => {
    expectSongPicture(
      [part('low', ['fern', 'moss'], { priority: -1 }), part('high', ['moss', 'reed'])],
      `
      high 72  |====.......|
      low 28   |..=======..|
      fern     |..Bbbbbbb..|
      moss     |Aaaa..Bbb..|
      reed     |Aaaa.......|
      fern for |..lllllllll|
      moss for |hhhhhhlllll|
      `,
    )
  })

  test('of equals the one that was there first keeps it, and has it back first from a higher one', () => {
    expectSongPicture(
      [part('low', ['fern']), part('next', ['fern']), part('high', ['fern'], { priority: 5, releaseMs: 0 })],
      `
      next 40  |===========....|
      low 28   |..============.|
      high 72  |....===........|
      fern     |AaaaCccAaaa..B.|
      fern for |nnnnhhhnnnnnnll|
      `,
    )
  })

  test('an always claim has it whenever no higher one does', () => {
    expectSongPicture(
      [part('low', ['fern'], { when: 'always' }), part('high', ['fern'], { priority: 1 }), lead()],
      `
      keys 60  |============.|
      high 72  |...===.......|
      low 28   |..........==.|
      fern     |...Bbb....Cc.|
      moss     |Aaaaaaaaaaaa.|
      reed     |.............|
      fern for |lllhhhhhlllll|
      `,
    )
  })
})

describe('latched', () => {
  test('from its first note until all is made dark, and anew from the next', () => {
    expectSongPicture(
      [lead({ lamps: ['fern', 'moss'] }), part('low', ['fern'], { when: 'latched' })],
      `
      keys 60  |===....====..==.|
      low 28   |..==........=...|
      dark     |.........!......|
      fern     |AaBb........D...|
      moss     |..A....Cc....Ee.|
      fern for |..lllllll...llll|
      `,
    )
  })

  test('a higher one takes it for a while', () => {
    expectSongPicture(
      [part('low', ['fern'], { when: 'latched' }), part('high', ['fern'], { priority: 1 })],
      `
      low 28   |=......|
      high 72  |..==...|
      fern     |A.Bb...|
      fern for |llhhhhl|
      `,
    )
  })
})
