import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import type { Show } from '../../../src/domain/show.ts'
import { arbitraryPlaying, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

/** Looked for between the moments of what is played: those lie on whole milliseconds. */
const BETWEEN = 500

/** What parts did to the lamps: a lamp lit to be found counts as dark, and what then is no change is none. */
function playedLight(run: GraphRun, show: Show): string[] {
  const before = new Map<number, string>()
  const lines: string[] = []
  for (const { at, changes } of run.of('frame')) {
    for (const { index, state } of changes) {
      const words = played(state)
      if (words === (before.get(index) ?? 'dark')) continue
      before.set(index, words)
      lines.push(`${at} ${show.rig.lamps[index]?.id} ${words}`)
    }
  }
  return lines
}

function played(state: LampState): string {
  if (!state.on || state.part === '') return 'dark'
  // That a lamp was lit already makes a strike of what is a change elsewhere; the rest is the same.
  const { strike: _, drive: __, ...rest } = state
  return JSON.stringify(rest)
}

function wattsLit(states: readonly LampState[], show: Show): number {
  return states.reduce((sum, state, index) => sum + (state.on ? (show.rig.lamps[index]?.watts ?? 0) : 0), 0)
}

test('lamps that are looked for take nothing from what is played, keep within the supply, and end dark', () => {
  const finds = fc.array(fc.option(fc.nat(7), { freq: 4, nil: null }), { minLength: 1, maxLength: 20 })
  checkProperty(
    'find lamp',
    fc.property(
      arbitraryShow({ held: false, clock: false }),
      arbitraryPlaying,
      finds,
      (show, playing, wanted) => {
        const plain = new GraphRun(show)
        plain.play(playing, 1000)
        plain.play(lettingGo(), plain.graph.now + 1000)
        plain.runOut()

        const run = new GraphRun(show)
        const [supply] = show.rig.supplies
        const limit = (supply?.volts ?? 0) * (supply?.maxAmps ?? 0) * (supply?.usable ?? 0)
        const states = [...run.graph.lamps]
        run.graph.tap$.subscribe((event) => {
          if (event.kind !== 'frame') return
          for (const { index, state } of event.changes) states[index] = state
          expect(wattsLit(states, show)).toBeLessThanOrEqual(limit + 1e-6)
          expect(states.filter((state) => state.on && state.part === '').length).toBeLessThanOrEqual(1)
        })
        let at = 1000
        playing.forEach(({ player, bytes, after }, place) => {
          at += after
          if (after > BETWEEN) {
            const lamp = wanted[place % wanted.length] ?? null
            run.graph.find(lamp === null ? null : (show.rig.lamps[lamp]?.id ?? 'nettle'), at - BETWEEN)
          }
          run.graph.play(player, bytes, at)
        })
        run.play(lettingGo(), run.graph.now + 1000)
        run.runOut()
        expect(playedLight(run, show)).toEqual(playedLight(plain, show))
        expect(run.of('refused')).toEqual(plain.of('refused'))
        expect(run.litLamps()).toEqual([])
        expect(run.of('diagnostic')).toEqual([])
      },
    ),
  )
})
