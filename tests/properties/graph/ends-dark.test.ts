import type { ClaimsState } from '../../../src/claims/claims.ts'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { arbitraryPlaying, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow, FLASH_GUARDS } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

test('once every key and pedal is up and the echoes are over, every lamp is dark and owned by nobody', () => {
  checkProperty(
    'ends dark',
    fc.property(arbitraryShow({ clock: false }), arbitraryPlaying, (show, playing) => {
      const run = new GraphRun(show)
      run.play(playing)
      run.play(lettingGo(), run.graph.now + 1)
      run.runOut()
      expect(run.litLamps()).toEqual([])
      expect(ownersOf(run)).toEqual(show.rig.lamps.map(() => -1))
      expect(run.of('diagnostic')).toEqual([])
    }),
  )
})

test.each([
  {
    what: 'pitches move, lamps pulse and keys have no pitch',
    shows: arbitraryShow({ clock: false, moving: true }),
  },
  {
    what: 'flash guards tie notes or keep lamps lit',
    shows: arbitraryShow({ clock: false, moving: true, flash: FLASH_GUARDS }),
  },
])('so it is where $what', ({ what, shows }) => {
  checkProperty(
    `ends dark, ${what}`,
    fc.property(shows, arbitraryPlaying, (show, playing) => {
      const run = new GraphRun(show)
      run.play(playing)
      run.play(lettingGo(), run.graph.now + 1)
      run.runOut()
      expect(run.litLamps()).toEqual([])
      expect(ownersOf(run)).toEqual(show.rig.lamps.map(() => -1))
      expect(run.of('diagnostic')).toEqual([])
    }),
    300,
  )
})

test('dark-all darkens everything at once, also what was held, and nothing comes back', () => {
  checkProperty(
    'dark-all',
    fc.property(
      arbitraryShow({ flash: [...FLASH_GUARDS, { action: 'warn' }] }),
      arbitraryPlaying,
      (show, playing) => {
        const run = new GraphRun(show)
        const at = run.play(playing)
        run.graph.darkAll(at)
        run.events.length = 0
        expect(run.litLamps()).toEqual([])
        expect(ownersOf(run)).toEqual(show.rig.lamps.map(() => -1))
        run.runOut(10_000_000)
        expect(run.of('frame').filter(({ changes }) => changes.some(({ state }) => state.on))).toEqual([])
        expect(run.litLamps()).toEqual([])
      },
    ),
  )
})

function ownersOf(run: GraphRun): readonly number[] {
  const claims = run.graph.save().cells.claims?.state as ClaimsState | undefined
  return claims?.owner ?? []
}
