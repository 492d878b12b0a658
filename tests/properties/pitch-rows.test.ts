import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../src/domain/show.ts'
import type { KeyPitch } from '../../src/offline/pitch-rows.ts'
import { pitchRows } from '../../src/offline/pitch-rows.ts'
import { arbitraryShow } from '../support/arbitrary-show.ts'
import { GraphRun } from '../support/graph-run.ts'
import { checkProperty } from '../support/property.ts'

/** Every other lamp with a range under an octave, which some keys have no octave in. */
function withNarrowLamps(show: Show): Show {
  const lamps = show.rig.lamps.map((lamp, place) =>
    place % 2 === 0 ? lamp : { ...lamp, highHz: 1.5 * lamp.lowHz },
  )
  return { ...show, rig: { ...show.rig, lamps } }
}

test('what is told of a key on a lamp is what the lamp does when the key is played, to the last bit', () => {
  let lit = 0
  let refused = 0
  checkProperty(
    'pitch rows against the graph',
    fc.property(
      arbitraryShow({
        held: false,
        flash: [{ action: 'warn' }, { action: 'fold' }, { action: 'limit' }],
      }).map(withNarrowLamps),
      fc.integer({ min: 0, max: 127 }),
      (show, key) => {
        const [song] = show.songs
        const run = new GraphRun(show)
        const channel: Record<string, number> = { keys: 0, pads: 9, bass: 0 }
        let at = run.graph.now + 1
        for (const { id } of show.players) {
          run.graph.play(id, Uint8Array.of(0x90 | (channel[id] ?? 0), key, 100), at++)
        }
        // Long enough for strings to be sure of their note, and for the later lamps of a canon.
        const end = at + 25_000
        run.graph.advance(end)
        const states = run.graph.lamps
        const told: unknown[] = []
        const done: unknown[] = []
        for (const part of song?.parts ?? []) {
          const lamps = pitchRows(show, song?.id ?? '', part.id) ?? []
          expect(lamps.map(({ lamp }) => lamp)).toEqual(part.lamps)
          for (const { lamp, rows } of lamps) {
            const state = states[show.rig.lamps.findIndex(({ id }) => id === lamp)]
            const isLit = state?.on === true && state.part === part.id
            // What steps sound is written in their pattern, whatever key was played.
            const sounding = part.strategy.kind === 'steps' && isLit ? state.key - part.transpose : key
            const row = rows.find((one: KeyPitch) => one.key === sounding)
            if (row?.octaves === null) refused += 1
            if (!isLit) continue
            lit += 1
            told.push({
              key: row && row.key + part.transpose,
              hz: row?.hz,
              realHz: row?.realHz,
              cents: row?.cents,
            })
            done.push({ key: state.key, hz: state.hz, realHz: state.realHz, cents: state.cents })
          }
        }
        run.graph.dispose()
        expect(told).toEqual(done)
      },
    ),
    300,
  )
  expect(lit).toBeGreaterThan(100)
  expect(refused).toBeGreaterThan(20)
})
