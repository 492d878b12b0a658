import fc from 'fast-check'
import { z } from 'zod'
import type { LampId } from '../../src/domain/ids.ts'
import type { AnyStrategy } from '../../src/strategies/strategy.ts'

/** The parts of JSON Schema that a strategy's options are written in. */
interface JsonSchema {
  readonly type?: string
  readonly const?: unknown
  readonly enum?: readonly unknown[]
  readonly anyOf?: readonly JsonSchema[]
  readonly oneOf?: readonly JsonSchema[]
  readonly items?: JsonSchema
  readonly properties?: Readonly<Record<string, JsonSchema>>
  readonly required?: readonly string[]
  readonly minimum?: number
  readonly maximum?: number
  readonly exclusiveMinimum?: number
}

/** What a string may be that a schema does not list: a note value, or a lamp. */
const NOTE_VALUES = ['1/4', '1/8', '1/16', '3/8', '1/32', '1/12']
/** The keys that the sequences of the suite are played on. */
export const LOW_KEY = 58
export const HIGH_KEY = 66

/**
 * Valid options of a strategy on these lamps, worked out from its schema: its defaults where it has them for all, and others of every shape the
 * schema allows. Throws an Error where the schema asks for something that this file cannot make up.
 */
export function optionsFor(strategy: AnyStrategy, lamps: readonly LampId[]): readonly unknown[] {
  const schema = z.toJSONSchema(strategy.options, { io: 'input', unrepresentable: 'any' }) as JsonSchema
  const tries = fc.sample(valueOf(schema, lamps), { seed: 7, numRuns: 600 })
  const valid = [{}, ...tries].flatMap((candidate) => {
    const parsed = strategy.options.safeParse(candidate)
    if (!parsed.success || (strategy.check?.(parsed.data, lamps) ?? []).length > 0) return []
    return [parsed.data]
  })
  if (valid.length < 20) {
    throw new Error(
      `strategy "${strategy.kind}": of ${tries.length} sets of options made up from its schema for ${lamps.length} lamps only ` +
        `${valid.length} are valid; teach tests/support/options-arbitrary.ts what its options look like`,
    )
  }
  return valid
}

function valueOf(schema: JsonSchema, lamps: readonly LampId[]): fc.Arbitrary<unknown> {
  if ('const' in schema) return fc.constant(schema.const)
  if (schema.enum) return fc.constantFrom(...schema.enum)
  const either = schema.anyOf ?? schema.oneOf
  if (either) return fc.oneof(...either.map((one) => valueOf(one, lamps)))
  switch (schema.type) {
    case 'boolean':
      return fc.boolean()
    case 'string':
      return fc.constantFrom(...NOTE_VALUES, ...lamps)
    case 'integer':
    case 'number':
      return numberOf(schema)
    case 'array':
      return listOf(schema, lamps)
    case 'object':
      return objectOf(schema, lamps)
    default:
      throw new Error(`options of a type not known here: ${JSON.stringify(schema)}`)
  }
}

/** Numbers of every size, more often such as a player would set: small ones, and the suite's own keys. */
function numberOf(schema: JsonSchema): fc.Arbitrary<number> {
  const low = Math.max(schema.minimum ?? schema.exclusiveMinimum ?? -1e6, -1e6)
  const high = Math.min(schema.maximum ?? 1e6, 1e6)
  const isWhole = schema.type === 'integer'
  const whole = fc.integer({ min: Math.ceil(low), max: Math.floor(high) })
  const usual = [1, 2, 3, 20, 33, 90, ...keys()].filter((value) => value >= low && value <= high)
  const any = isWhole ? whole : fc.oneof(whole, fc.double({ min: low, max: high, noNaN: true }))
  return usual.length > 0 ? fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...usual) }, any) : any
}

function keys(): number[] {
  return Array.from({ length: HIGH_KEY - LOW_KEY + 1 }, (_, index) => LOW_KEY + index)
}

/** Often one for each lamp, since lists of a strategy mostly are. */
function listOf(schema: JsonSchema, lamps: readonly LampId[]): fc.Arbitrary<unknown[]> {
  const item = valueOf(schema.items ?? {}, lamps)
  const perLamp = fc.array(item, { minLength: lamps.length, maxLength: lamps.length })
  return fc.oneof(perLamp, fc.array(item, { maxLength: lamps.length + 1 }))
}

function objectOf(schema: JsonSchema, lamps: readonly LampId[]): fc.Arbitrary<unknown> {
  const entries = Object.entries(schema.properties ?? {}).map(([name, one]) => [name, valueOf(one, lamps)])
  const required = [...(schema.required ?? [])]
  return fc.record(Object.fromEntries(entries) as Record<string, fc.Arbitrary<unknown>>, {
    requiredKeys: required,
  })
}
