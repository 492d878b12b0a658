import fc from 'fast-check'
import { expect, test } from 'vitest'
import { arbitraryPlaying, arbitrarySwitching, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow, FLASH_GUARDS } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

test.each([
  { what: 'one song', shows: arbitraryShow(), played: arbitraryPlaying, runs: 1000 },
  { what: 'pitches that move', shows: arbitraryShow({ moving: true }), played: arbitraryPlaying, runs: 250 },
  {
    what: 'flash guards',
    shows: arbitraryShow({ moving: true, flash: FLASH_GUARDS }),
    played: arbitraryPlaying,
    runs: 250,
  },
  {
    what: 'songs with flash guards',
    shows: arbitraryShow({ songs: 3, flash: FLASH_GUARDS }),
    played: arbitrarySwitching,
    runs: 100,
  },
  {
    what: 'songs that follow each other',
    shows: arbitraryShow({ songs: 4 }),
    played: arbitrarySwitching,
    runs: 300,
  },
])(
  'bytes split anywhere, time cut anywhere, and a graph put down and taken up give the same bytes: $what',
  ({ what, shows, played, runs }) => {
    const cuts = fc.array(fc.record({ split: fc.nat(2), advance: fc.boolean(), putDown: fc.boolean() }), {
      minLength: 1,
      maxLength: 20,
    })
    checkProperty(
      `same bytes, ${what}`,
      fc.property(shows, played, cuts, (show, playing, ways) => {
        const whole = new GraphRun(show)
        whole.play(playing)
        whole.play(lettingGo(), whole.graph.now + 1)
        whole.runOut(3_000_000)

        const pieces = new GraphRun(show)
        let at = 0
        playing.forEach(({ player, bytes, after }, index) => {
          const way = ways[index % ways.length]
          at += after
          if (way?.advance && at - 1 > pieces.graph.now) {
            pieces.graph.advance(pieces.graph.now + Math.floor((at - 1 - pieces.graph.now) / 2))
          }
          const split = way?.split ?? 0
          pieces.graph.play(player, bytes.slice(0, split), at)
          if (way?.putDown) pieces.putDown()
          pieces.graph.play(player, bytes.slice(split), at)
        })
        pieces.play(lettingGo(), pieces.graph.now + 1)
        pieces.runOut(3_000_000)
        expect(pieces.bytes()).toEqual(whole.bytes())
        expect(pieces.of('frame')).toEqual(whole.of('frame'))
        expect(pieces.of('song')).toEqual(whole.of('song'))
      }),
      runs,
    )
  },
)
