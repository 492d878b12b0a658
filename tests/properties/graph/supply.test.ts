import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { arbitraryPlaying, arbitrarySwitching, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow, FLASH_GUARDS } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

/** Amps are watts over volts, a supply is used to 80 % (common practice, no source). */
const VOLTS = 12
const USABLE = 0.8

/** Two lamps of 10 W at once. */
const scarce =
  (action: 'refuse' | 'steal') =>
  (show: Show): Show => ({
    ...show,
    rig: { ...show.rig, supplies: show.rig.supplies.map((one) => ({ ...one, maxAmps: 2.5 })) },
    guards: { ...show.guards, supply: { action } },
  })

const ONE = arbitraryShow({ moving: true })
const MANY = arbitraryShow({ songs: 3 })
const GUARDED = arbitraryShow({ songs: 3, flash: FLASH_GUARDS })

test.each([
  { what: 'refused', shows: ONE.map(scarce('refuse')), played: arbitraryPlaying },
  { what: 'stolen', shows: ONE.map(scarce('steal')), played: arbitraryPlaying },
  { what: 'songs, refused', shows: MANY.map(scarce('refuse')), played: arbitrarySwitching },
  { what: 'songs, stolen', shows: MANY.map(scarce('steal')), played: arbitrarySwitching },
  {
    what: 'songs with flash guards, refused',
    shows: GUARDED.map(scarce('refuse')),
    played: arbitrarySwitching,
  },
  {
    what: 'songs with flash guards, stolen',
    shows: GUARDED.map(scarce('steal')),
    played: arbitrarySwitching,
  },
])(
  'the lamps lit never draw more than the supply may give, at any instant: $what',
  ({ what, shows, played }) => {
    let refusals = 0
    checkProperty(
      `supply, ${what}`,
      fc.property(shows, played, (show, playing) => {
        const run = new GraphRun(show)
        run.play(playing)
        run.play(lettingGo(), run.graph.now + 1)
        run.runOut(1_000_000)
        const most = (show.rig.supplies[0]?.maxAmps ?? 0) * VOLTS * USABLE
        const lit = new Set<string>()
        const draws = () => show.rig.lamps.reduce((sum, { id, watts }) => sum + (lit.has(id) ? watts : 0), 0)
        for (const event of run.events) {
          if (event.kind === 'refused' && event.reason === 'supply') refusals++
          if (event.kind !== 'frame') continue
          // In the order in which they are told: dark ones first.
          for (const { lamp, state } of event.changes) {
            if (state.on) lit.add(lamp)
            else lit.delete(lamp)
            expect(draws()).toBeLessThanOrEqual(most + 1e-9)
          }
        }
      }),
      200,
    )
    expect(refusals).toBeGreaterThan(5)
  },
)
