import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Hz } from '../../../src/domain/units.ts'
import { createFlashFigures } from '../../../src/guards/flash/flash-figures.ts'
import { arbitraryPlaying } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { countedFlashes } from '../../support/counted-flashes.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

const TAIL = 2_500_000
/** Lamps that go no faster flash at half of it and more. */
const TOPS = fc.constantFrom(12, 30, 90, 20_000)

/** Whatever the guard does about it, what lamps do is counted. */
const GUARDS = fc.constantFrom<FlashGuard>(
  { action: 'warn' },
  { action: 'warn' },
  { action: 'fold' },
  { action: 'glow', seconds: 0.5, hz: 25_000 },
  { action: 'limit', changes: 4 },
)

function slow(show: Show, highHz: Hz, flash: FlashGuard): Show {
  const lamps = show.rig.lamps.map((lamp) => ({ ...lamp, lowHz: 6, highHz }))
  return { ...show, rig: { ...show.rig, lamps }, guards: { ...show.guards, flash } }
}

test.each([
  { moving: false, runs: 400 },
  { moving: true, runs: 200 },
])(
  'figures of any show that anybody plays are those of a count of every pulse; moving: $moving',
  ({ moving, runs }) => {
    let flashing = 0
    checkProperty(
      `flash figures, moving ${moving}`,
      fc.property(
        arbitraryShow({ moving }),
        arbitraryPlaying,
        TOPS,
        GUARDS,
        fc.boolean(),
        (any, playing, top, guard, isAsked) => {
          const show = slow(any, top, guard)
          const run = new GraphRun(show)
          const end = run.play(playing) + TAIL
          run.graph.advance(end)
          const ids = show.rig.lamps.map(({ id }) => id)
          const frames = run.of('frame')
          const figures = createFlashFigures(ids)
          for (const { at, changes } of frames) {
            figures.frame(at, changes)
            // Whoever asks while it plays changes nothing.
            if (isAsked) figures.now(at)
          }
          const counted = countedFlashes(ids, frames, end)
          expect(figures.finish(end)).toEqual(counted)
          if (counted.bandSeconds > 0 && counted.perSecondMax > 3) flashing++
        },
      ),
      runs,
    )
    expect(flashing).toBeGreaterThan(runs / 50)
  },
)
