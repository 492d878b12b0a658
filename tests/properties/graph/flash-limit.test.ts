import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import type { Micros } from '../../../src/domain/units.ts'
import { arbitraryPlaying, arbitrarySwitching, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

const SECOND: Micros = 1_000_000
/** Some people see flicker up to here (epilepsy charities, second-hand). */
const STEADY_FROM = 60

const limits = [2, 3, 6].map((changes) => ({ action: 'limit', changes }))

/** The supply is no help: the third lamp lights. */
const plenty = (show: Show): Show => ({
  ...show,
  rig: { ...show.rig, supplies: show.rig.supplies.map((one) => ({ ...one, maxAmps: 100 })) },
})
/** Whoever darkens is not held up: such pads are none here. */
const undarkened = (show: Show): Show => ({
  ...show,
  switching: { ...show.switching, controls: show.switching.controls.filter((one) => one.do !== 'dark') },
})

const ONE = arbitraryShow({ moving: true, flash: limits })
const MANY = arbitraryShow({ songs: 3, flash: limits }).map(undarkened)

test.each([
  { what: 'one song', shows: ONE, played: arbitraryPlaying },
  { what: 'one song, a large supply', shows: ONE.map(plenty), played: arbitraryPlaying },
  { what: 'songs that follow each other', shows: MANY, played: arbitrarySwitching },
  { what: 'songs, a large supply', shows: MANY.map(plenty), played: arbitrarySwitching },
])(
  'under a limit the field never goes between lit and dark more often than that in any second: $what',
  ({ what, shows, played }) => {
    let ties = 0
    checkProperty(
      `limit, ${what}`,
      fc.property(shows, played, (show, playing) => {
        const run = new GraphRun(show)
        run.play(playing)
        run.play(lettingGo(), run.graph.now + 1)
        run.runOut(3_000_000)
        ties += run.of('tied').length
        const limitOf = (song: string): number => {
          const flash = show.songs.find(({ id }) => id === song)?.flash ?? show.guards.flash
          return flash.action === 'limit' ? flash.changes : Infinity
        }
        const first = show.songs[0]?.id ?? ''
        const changes = fieldChanges(run)
        changes.forEach(({ at }, index) => {
          // The widest limit of the songs that played in the second which ends here.
          const begun = run.of('song').filter((event) => event.at <= at)
          const before = begun.findLast((event) => event.at <= at - SECOND)
          const played = [before, ...begun.filter((event) => event.at > at - SECOND)]
          const most = Math.max(...played.map((event) => limitOf(event?.place.song ?? first)))
          const within = changes.slice(0, index + 1).filter((one) => at - one.at < SECOND)
          expect(within.length, `ending at ${at}`).toBeLessThanOrEqual(most)
        })
        for (const event of run.of('frame'))
          for (const { state } of event.changes)
            expect(state.on ? state.realHz : STEADY_FROM).toBeGreaterThanOrEqual(STEADY_FROM)
      }),
      200,
    )
    expect(ties).toBeGreaterThan(20)
  },
)

/** All lamps taken as one light, from what they were told: where it goes down, and where it goes up. Of one moment the dark ones first. */
function fieldChanges(run: GraphRun): { at: Micros; isUp: boolean }[] {
  const lit = new Set<string>()
  const changes: { at: Micros; isUp: boolean }[] = []
  for (const { at, changes: told } of run.of('frame')) {
    for (const isUp of [false, true]) {
      const moved = told.filter(({ lamp, state }) => state.on === isUp && lit.has(lamp) !== isUp)
      const wasUp = changes.at(-1)?.isUp ?? false
      if (moved.length > 0 && wasUp !== isUp) changes.push({ at, isUp })
      for (const { lamp } of moved)
        if (isUp) lit.add(lamp)
        else lit.delete(lamp)
    }
  }
  return changes
}
