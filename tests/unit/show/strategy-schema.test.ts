import { expect, test } from 'vitest'
import { z } from 'zod'
import type { AnyStrategyRules } from '../../../src/domain/strategy-rules.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { strategySchema } from '../../../src/show/strategy-schema.ts'
import { formatFault } from '../../../src/show/show-fault.ts'
import { edited } from '../../support/edit-json.ts'
import { glasshouse } from '../../support/shows.ts'

const glow: AnyStrategyRules = {
  kind: 'glow',
  about: 'glows',
  options: z
    .strictObject({ from: z.number().default(0), to: z.number().default(1) })
    .refine(({ from, to }) => from <= to, { path: ['to'], error: 'at least "from"' }),
  check: (_, lamps) => (lamps.length > 2 ? [{ option: 'from', message: 'glow has two lamps' }] : []),
}

function messages(strategy: { [option: string]: number | string }): string[] {
  const text = JSON.stringify(edited(glasshouse(), 'songs.0.parts.0.strategy', strategy))
  const parsed = parseShow(text, [glow])
  return parsed.ok ? [] : parsed.faults.map(formatFault)
}

test('a strategy is checked with the options it brings, and with what it says of the lamps', () => {
  expect(messages({ kind: 'glow', from: 2, to: 1 })).toEqual([
    '$.songs[0].parts[0].strategy.to (line 1): found 1; expected at least "from"',
  ])
  expect(messages({ kind: 'glow' })).toEqual([
    '$.songs[0].parts[0].strategy.from (line 1): glow has two lamps',
  ])
})

test('options that are no object, or no strategy at all, are a fault in the program', () => {
  expect(() => strategySchema([])).toThrow(TypeError)
  expect(() => strategySchema([{ kind: 'odd', about: 'odd', options: z.string() }])).toThrow(
    new TypeError('the options of strategy "odd" are not a zod object'),
  )
})
