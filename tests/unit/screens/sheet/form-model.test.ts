import fc from 'fast-check'
import { z } from 'zod'
import { describe, expect, test } from 'vitest'
import { faultOf, fits, variantOf } from '../../../../app/screens/sheet/form-fault.ts'
import type { Field } from '../../../../app/screens/sheet/form-model.ts'
import { fieldOf, fieldsOf } from '../../../../app/screens/sheet/form-model.ts'
import { requiredOf, startOf } from '../../../../app/screens/sheet/form-start.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { optionsFor } from '../../../support/options-arbitrary.ts'

const LAMPS = ['fern', 'moss', 'reed', 'sedge']

function schemaOf(options: z.ZodType): unknown {
  return z.toJSONSchema(options, { io: 'input', unrepresentable: 'any' })
}

/** Every field inside a field, and it itself. */
function allOf(field: Field): Field[] {
  switch (field.kind) {
    case 'list':
      return [field, ...allOf(field.item)]
    case 'group':
      return [field, ...field.fields.flatMap((one) => allOf(one.field))]
    case 'variants':
      return [field, ...field.variants.flatMap(allOf)]
    default:
      return [field]
  }
}

describe.each(strategies.map((strategy) => ({ kind: strategy.kind, strategy })))(
  'the form of $kind',
  ({ strategy }) => {
    const fields = fieldsOf(schemaOf(strategy.options))

    test('has a field of its own for every option, with a line about it', () => {
      expect(fields.length).toBeGreaterThan(0)
      expect(fields.flatMap(({ field }) => allOf(field)).map(({ kind }) => kind)).not.toContain('json')
      for (const { about } of fields) expect(about).not.toBe('')
    })

    test('begins with options that the strategy takes on any number of lamps', () => {
      for (const lamps of [LAMPS.slice(0, 1), LAMPS.slice(0, 2), LAMPS]) {
        const parsed = strategy.options.safeParse(requiredOf(fields, lamps))
        expect(parsed.success).toBe(true)
        expect(strategy.check?.(parsed.data, lamps) ?? []).toEqual([])
      }
    })

    test('begins every option, and every way of saying it, with a value that the strategy takes', () => {
      for (const { name, field } of fields) {
        const ways = field.kind === 'variants' ? field.variants : [field]
        for (const way of ways) {
          const value = startOf(way, LAMPS)
          expect(fits(way, value)).toBe(true)
          const given = { ...requiredOf(fields, LAMPS), [name]: value }
          expect(strategy.options.safeParse(given).success).toBe(true)
        }
      }
    })

    test('lets through what the strategy’s own schema lets through, and nothing else', () => {
      const faults = optionsFor(strategy, LAMPS).flatMap((options) =>
        fields.flatMap(({ name, field }) => {
          const value = (options as Record<string, unknown>)[name]
          return value === undefined ? [] : [faultOf(field, value)]
        }),
      )
      expect(faults.filter((fault) => fault !== undefined)).toEqual([])
      const anything = fc.oneof(
        fc.jsonValue({ maxDepth: 2 }),
        fc.integer({ min: -3, max: 130 }),
        fc.constantFrom('1/8', '0/4', '9/0', '12/12345', 'note', 'fern', '', 'pendulum'),
        fc.array(fc.oneof(fc.integer({ min: -2, max: 2000 }), fc.constantFrom('fern', ''))),
        fc.record({ every: fc.constantFrom('1/4', 'x') }),
        fc.record({ everyMs: fc.integer({ min: -1, max: 3 }) }),
      )
      for (const { name, field } of fields) {
        fc.assert(
          fc.property(anything, (value) => {
            const given = { ...requiredOf(fields, LAMPS), [name]: value }
            const taken = strategy.options.safeParse(given).success
            // An empty text is a lamp's id to the schema alone; no lamp has one.
            const isNoLamp = Array.isArray(value) && value.includes('')
            expect(isNoLamp || fits(field, value) === taken).toBe(true)
          }),
          { numRuns: 200 },
        )
      }
    })
  },
)

test('the fields of travel are what its options are', () => {
  const travel = strategies.find(({ kind }) => kind === 'travel')
  if (!travel) throw new Error('no travel')
  const fields = new Map(fieldsOf(schemaOf(travel.options)).map((one) => [one.name, one]))
  expect(fields.get('path')?.field).toEqual({
    kind: 'variants',
    variants: [
      { kind: 'choice', choices: ['forward', 'backward', 'pendulum', 'inward', 'outward', 'shuffle'] },
      { kind: 'lamps', least: 1 },
    ],
  })
  const move = fields.get('move')?.field
  if (move?.kind !== 'variants') throw new Error('move is no choice of ways')
  expect(move.variants.map(({ kind }) => kind)).toEqual(['choice', 'group', 'group'])
  expect(variantOf(move.variants, 'note')).toBe(0)
  expect(variantOf(move.variants, { every: '1/16' })).toBe(1)
  expect(variantOf(move.variants, { everyMs: 90 })).toBe(2)
  expect(fields.get('width')).toMatchObject({ usual: 1, isRequired: false, field: { kind: 'number' } })
})

describe('what a form does not know is asked for in JSON', () => {
  test.each([
    ['a record', z.record(z.string(), z.number())],
    ['a tuple', z.tuple([z.number(), z.string()])],
    ['anything', z.unknown()],
    ['an object that lets other fields in', z.looseObject({ a: z.number() })],
    ['a null', z.null()],
  ])('%s', (_name, schema) => {
    expect(fieldOf(schemaOf(schema)).kind).toBe('json')
  })

  test('only there where it is not known', () => {
    const schema = z.strictObject({ plain: z.boolean(), odd: z.record(z.string(), z.number()) })
    expect(fieldsOf(schemaOf(schema)).map(({ name, field }) => [name, field.kind])).toEqual([
      ['plain', 'switch'],
      ['odd', 'json'],
    ])
  })

  test('schemas that are no schemas', () => {
    for (const odd of [
      null,
      7,
      'x',
      [],
      {},
      { type: 'wish' },
      { $ref: '#/x' },
      { allOf: [{ type: 'string' }] },
    ]) {
      expect(fieldOf(odd)).toEqual({ kind: 'json' })
      expect(fieldsOf(odd)).toEqual([])
    }
  })
})
