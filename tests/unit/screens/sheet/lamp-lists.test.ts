import fc from 'fast-check'
import { z } from 'zod'
import { expect, test } from 'vitest'
import { fieldsOf } from '../../../../app/screens/sheet/form-model.ts'
import { relisted } from '../../../../app/screens/sheet/lamp-lists.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { optionsFor } from '../../../support/options-arbitrary.ts'

function fieldsOfKind(kind: string) {
  const strategy = strategies.find((one) => one.kind === kind)
  if (!strategy) throw new Error(`no ${kind}`)
  return fieldsOf(z.toJSONSchema(strategy.options, { io: 'input', unrepresentable: 'any' }))
}

test('each lamp of a chime keeps its key when the order changes, and a new lamp gets the next', () => {
  const chime = { kind: 'chime', notes: [60, 62, 66] }
  const fields = fieldsOfKind('chime')
  expect(relisted(chime, fields, ['ivy', 'vine', 'fern'], ['fern', 'ivy', 'vine'])).toEqual({
    notes: [66, 60, 62],
  })
  expect(relisted(chime, fields, ['ivy', 'vine', 'fern'], ['ivy', 'fern'])).toEqual({ notes: [60, 66] })
  expect(relisted(chime, fields, ['ivy', 'vine', 'fern'], ['ivy', 'vine', 'fern', 'moss'])).toEqual({
    notes: [60, 62, 66, 67],
  })
})

test('a short list stays short, an empty one empty', () => {
  const fields = fieldsOfKind('unison')
  const lamps = ['a', 'b', 'c']
  expect(relisted({ detuneCents: [5] }, fields, lamps, ['a', 'b', 'c', 'd'])).toEqual({})
  expect(relisted({ detuneCents: [5] }, fields, lamps, ['b', 'a', 'c'])).toEqual({ detuneCents: [0, 5] })
  expect(relisted({ detuneCents: [] }, fields, lamps, ['c'])).toEqual({})
})

test('a way of lamps loses those that are gone; the last gone, the usual way is gone', () => {
  const fields = fieldsOfKind('travel')
  expect(relisted({ path: ['a', 'b', 'a'] }, fields, ['a', 'b'], ['a'])).toEqual({ path: ['a', 'a'] })
  expect(relisted({ path: ['b'] }, fields, ['a', 'b'], ['a'])).toEqual({ path: 'forward' })
  expect(relisted({ path: 'pendulum' }, fields, ['a', 'b'], ['a'])).toEqual({})
})

test('options that a strategy takes stay such as it takes, whatever becomes of the lamps', () => {
  const before = ['a', 'b', 'c', 'd']
  for (const strategy of strategies) {
    const fields = fieldsOfKind(strategy.kind)
    const options = optionsFor(strategy, before) as Record<string, unknown>[]
    const after = fc
      .subarray(['a', 'b', 'c', 'd', 'e'], { minLength: 1 })
      .chain((some) => fc.shuffledSubarray(some, { minLength: some.length }))
    fc.assert(
      fc.property(fc.constantFrom(...options), after, (given, lamps) => {
        const next = { ...given, ...relisted(given, fields, before, lamps) }
        const parsed = strategy.options.safeParse(next)
        expect(parsed.success).toBe(true)
        const faults = strategy.check?.(parsed.data, lamps) ?? []
        // Fewer lamps than a voice is wide is for the player to decide.
        expect(faults.filter(({ option }) => option !== 'width')).toEqual([])
      }),
      { numRuns: 300 },
    )
  }
})
