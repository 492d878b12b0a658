import fc from 'fast-check'
import { expect, test } from 'vitest'
import { dark, played, wants } from '../../support/claiming.ts'
import { anyMoves, anyPlans, playClaims } from '../../support/claims-model.ts'
import { checkProperty } from '../../support/property.ts'

test('a lamp has at most one owner, and who may light it is what the claims say', () => {
  checkProperty(
    'owners',
    fc.property(anyPlans, anyMoves, (plans, moves) => {
      expect(playClaims(plans, moves).faults).toEqual([])
    }),
    3000,
  )
})

test('when all notes and lamps have ended, no owner is left, and only claims for good are', () => {
  checkProperty(
    'no owner left',
    fc.property(anyPlans, anyMoves, (plans, moves) => {
      const { run, at } = playClaims(plans, moves)
      plans.forEach(({ lamps }, part) => {
        run.at(at, played(part, { kind: 'all-off' }))
        run.at(at, wants(part, ...lamps.map(dark)))
      })
      run.runOut()
      expect(run.state.owner).toEqual([-1, -1, -1, -1])
      expect(run.wakeAt).toBeUndefined()
      const held = () => run.state.holder.flatMap((part) => plans[part]?.claim?.when ?? [])
      expect(held()).not.toContain('playing')
      run.at(at + 1_000_000, { kind: 'dark-all' })
      expect(held().filter((when) => when !== 'always')).toEqual([])
      const always = new Set(plans.flatMap(({ lamps, claim }) => (claim?.when === 'always' ? lamps : [])))
      expect(held()).toHaveLength(always.size)
    }),
  )
})

test('put down as JSON and taken up after every step, it says the same', () => {
  checkProperty(
    'claims: round trip',
    fc.property(anyPlans, anyMoves, (plans, moves) => {
      const straight = playClaims(plans, moves).run
      const putDown = playClaims(plans, moves, true).run
      expect(putDown.said).toEqual(straight.said)
      expect(putDown.state).toEqual(straight.state)
    }),
  )
})
