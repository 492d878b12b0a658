import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { expect, test } from 'vitest'
import type { MidiOutput } from '../../../../src/domain/rig.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { KIND_NUMBERS } from '../../../../app/screens/rig/player-edits.ts'
import { setTelling } from '../../../../app/screens/rig/wiring-edits.ts'
import type { NumberKind } from '../../../../app/screens/rig/ranges.ts'
import {
  HEAT_NUMBERS,
  LAMP_NUMBERS,
  MIDI_NUMBERS,
  MTS_NUMBERS,
  PLAYER_NUMBERS,
  SERIAL_NUMBERS,
  SUPPLY_NUMBERS,
  TIMER_NUMBERS,
} from '../../../../app/screens/rig/ranges.ts'

// The published schema of the show file, which other programs' editors go by.
const SCHEMA = JSON.parse(
  readFileSync(resolve(import.meta.dirname, '../../../../assets/show.schema.json'), 'utf8'),
)

interface Bounds {
  readonly type: string
  readonly default?: number | string
  readonly minimum?: number
  readonly maximum?: number
  readonly exclusiveMinimum?: number
}

const rig = SCHEMA.properties.rig.properties
const kindOf = (schemas: { properties: { kind: { const: string } } }[], kind: string) =>
  schemas.find(({ properties }) => properties.kind.const === kind)?.properties as never
const outputs = rig.outputs.items.oneOf ?? rig.outputs.items.anyOf
const players = SCHEMA.properties.players.items.oneOf ?? SCHEMA.properties.players.items.anyOf
type Fields = Record<string, Bounds & { properties: Record<string, Bounds> }>
const serial: Fields = kindOf(outputs, 'serial')
const midi: Fields = kindOf(outputs, 'midi')

const TABLES: [string, Record<string, NumberKind>, Record<string, Bounds>][] = [
  ['supply', SUPPLY_NUMBERS, rig.supplies.items.properties],
  ['lamp', LAMP_NUMBERS, rig.lamps.items.properties],
  ['lamp that bears less in the mean', HEAT_NUMBERS, rig.lamps.items.properties.heat.properties],
  ['serial output', SERIAL_NUMBERS, serial],
  ['timer', TIMER_NUMBERS, serial['timer']?.properties ?? {}],
  ['MIDI output', MIDI_NUMBERS, midi],
  ['MIDI output that is told the tuning', MTS_NUMBERS, midi['mts']?.properties ?? {}],
  ...Object.entries(KIND_NUMBERS).map(([kind, usual]): (typeof TABLES)[number] => [
    kind,
    Object.fromEntries(
      Object.keys(usual).map((field) => [field, PLAYER_NUMBERS[field as keyof typeof PLAYER_NUMBERS]]),
    ),
    kindOf(players, kind),
  ]),
]

test.each(TABLES)('numbers of a %s end where the published schema ends them', (_, numbers, schema) => {
  expect(Object.keys(numbers).length).toBeGreaterThan(0)
  for (const [field, { min, max, above, whole = false }] of Object.entries(numbers)) {
    const bounds = schema[field]
    expect({ field, min, max, above, whole }).toEqual({
      field,
      min: bounds?.minimum,
      max: bounds?.maximum,
      above: bounds?.exclusiveMinimum,
      whole: bounds?.type === 'integer',
    })
  }
})

test('an output that is told the tuning begins with the usual values of the published schema', () => {
  const output = { id: 'din', kind: 'midi' } as MidiOutput
  const show = { rig: { outputs: [output] } } as unknown as Show
  const usual = midi['mts']?.properties ?? {}
  expect(setTelling(output, 'keys')(show)?.changes).toMatchObject([
    {
      path: ['rig', 'outputs', 0, 'mts'],
      value: Object.fromEntries(Object.entries(usual).map(([field, schema]) => [field, schema.default])),
    },
  ])
})

test.each(Object.entries(KIND_NUMBERS))(
  'new %s have the usual values of the published schema',
  (kind, usual) => {
    const schema: Record<string, Bounds> = kindOf(players, kind)
    for (const [field, value] of Object.entries(usual))
      expect([field, value]).toEqual([field, schema[field]?.default])
  },
)
