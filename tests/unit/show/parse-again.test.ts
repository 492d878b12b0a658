import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { parseShow, parseShowAgain } from '../../../src/show/parse-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { glasshouse, glasshouseText } from '../../support/shows.ts'

const demo = readFileSync('assets/shows/glasshouse.json', 'utf8')

test.each([
  ['the demo', demo],
  ['a small show, its defaults left out', glasshouseText()],
  ['no JSON', '{'],
  ['no show', '[]'],
  ['nested without end', '['.repeat(200_000)],
  ['a field too many', JSON.stringify({ ...glasshouse(), lamps: 3 })],
  ['a song that is not there', JSON.stringify({ ...glasshouse(), setList: ['nowhere'] })],
  ['a newer version', JSON.stringify({ ...glasshouse(), version: 99 })],
])('%s is read as it was read the first time', (_, text) => {
  expect(parseShowAgain(text, strategies)).toEqual(parseShow(text, strategies))
})

test('of a field that stands twice, which the first reading refuses, the last counts', () => {
  const text = glasshouseText().replace('"title": "Glasshouse"', '"title": "Once", "title": "Twice"')
  expect(parseShow(text, strategies).ok).toBe(false)
  expect(parseShowAgain(text, strategies)).toMatchObject({ ok: true, show: { title: 'Twice' } })
})
