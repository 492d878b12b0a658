import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ClaimsState } from '../../../src/claims/claims.ts'
import { arbitraryPlaying } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

test('at every moment a lamp has one owner, and allocators and lamps agree on who lights what', () => {
  checkProperty(
    'one owner',
    fc.property(arbitraryShow({ held: false }), arbitraryPlaying, (show, playing) => {
      const run = new GraphRun(show)
      const parts = show.songs[0]?.parts ?? []
      let at = 0
      for (const { player, bytes, after } of playing) {
        at += after
        run.graph.play(player, bytes, at)
        run.graph.advance(at)
        at++
        const { cells } = run.graph.save()
        const claims = cells.claims?.state as ClaimsState
        run.graph.lamps.forEach((lamp, index) => {
          const owner = parts[claims.owner[index] ?? -1]
          expect(lamp.on ? { part: lamp.part, note: lamp.note } : undefined).toEqual(
            owner && { part: owner.id, note: claims.note[index] },
          )
          expect(owner === undefined || owner.lamps.includes(show.rig.lamps[index]?.id ?? '')).toBe(true)
          const holder = parts[claims.holder[index] ?? -1]
          expect(owner === undefined || holder === undefined || holder === owner).toBe(true)
        })
        for (const part of parts) {
          const pool = cells[`part ${part.id}: ${part.strategy.kind}`]?.state as { on?: readonly number[] }
          if (!['lowest-free', 'rotate', 'nearest', 'chime'].includes(part.strategy.kind)) continue
          const lit = part.lamps.map((id) => {
            const lamp = run.graph.lamps[show.rig.lamps.findIndex((one) => one.id === id)]
            return lamp?.on && lamp.part === part.id ? lamp.note : 0
          })
          expect(pool.on).toEqual(lit)
        }
      }
    }),
  )
})

test('the lit lamps never draw more than their supply may give, whatever is played', () => {
  checkProperty(
    'supply',
    fc.property(arbitraryShow(), arbitraryPlaying, (show, playing) => {
      const run = new GraphRun(show)
      run.play(playing)
      run.runOut(2_000_000)
      const lit = new Set<string>()
      const supply = show.rig.supplies[0]
      for (const frame of run.of('frame')) {
        for (const { lamp, state } of frame.changes) {
          if (state.on) lit.add(lamp)
          else lit.delete(lamp)
        }
        expect((lit.size * 10) / 12).toBeLessThanOrEqual(
          (supply?.maxAmps ?? 0) * (supply?.usable ?? 0) + 1e-9,
        )
      }
    }),
  )
})
