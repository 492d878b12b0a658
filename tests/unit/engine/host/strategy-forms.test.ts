import { expect, test } from 'vitest'
import { strategyForms } from '../../../../app/engine/host/strategy-forms.ts'
import { CAUTIONS } from '../../../../src/domain/cautions.ts'
import { strategies } from '../../../../src/strategies/registry.ts'

interface Option {
  readonly description?: string
  readonly default?: unknown
}

const forms = strategyForms(strategies)

test('every strategy is told in a line of its own', () => {
  expect(forms.map(({ kind }) => kind)).toEqual(strategies.map(({ kind }) => kind))
  const abouts = forms.map(({ about }) => about)
  expect(new Set(abouts).size).toBe(abouts.length)
  for (const about of abouts) expect(about).toMatch(/^[A-Z].{15,130}\.$/)
})

test.each(forms)('a form can be drawn of $kind', ({ options }) => {
  expect(options).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', type: 'object' })
  expect(JSON.parse(JSON.stringify(options))).toEqual(options)
  const properties = Object.entries((options.properties ?? {}) as Record<string, Option>)
  const required = (options.required ?? []) as string[]
  expect(properties.length).toBeGreaterThan(0)
  const undescribed = properties.filter(([, { description }]) => !/^[A-Z].{10,}/.test(description ?? ''))
  expect(undescribed).toEqual([])
  // What no default can stand for must be given (a key a lamp), or says what leaving it out means.
  const open = properties.filter(([name, option]) => !('default' in option) && !required.includes(name))
  expect(
    open.filter(([, { description }]) => !/left out|given, it stands in place of/.test(description ?? '')),
  ).toEqual([])
})

test('the cautions name what can harm, defer to those who decide, and promise nothing', () => {
  const all = CAUTIONS.join('\n')
  for (const word of [
    /photosensitive seizures/,
    /fire/,
    /wiring/,
    /supply/,
    /eyes/,
    /hearing/,
    /Local codes/,
    /licensed/,
    /not a safety device/,
  ])
    expect(all).toMatch(word)
  expect(all.replace('not a safety device', '')).not.toMatch(/\bsafe/i)
  for (const paragraph of CAUTIONS) expect(paragraph.length).toBeGreaterThan(100)
})
