import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { ORDERED_FIELDS } from '../../../src/show/field-order.ts'
import { showJsonSchema } from '../../../src/show/json-schema.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatShow } from '../../../src/show/write-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { glasshouseText } from '../../support/shows.ts'

function good(): Show {
  const parsed = parseShow(glasshouseText(), strategies)
  if (!parsed.ok) throw new Error('the glasshouse show is broken')
  return parsed.show
}

test('what is written reads back as the same show', () => {
  expect(parseShow(formatShow(good()), strategies)).toEqual({ ok: true, show: good(), notes: [] })
})

test('small things stand on one line, fields in a fixed order', () => {
  const lines = formatShow(good()).split('\n')
  expect(lines.slice(0, 6)).toEqual([
    '{',
    '  "format": "lanthorn-show",',
    '  "version": 1,',
    '  "title": "Glasshouse",',
    '  "rig": {',
    '    "supplies": [{ "id": "bench", "volts": 12, "maxAmps": 5, "usable": 0.8 }],',
  ])
  expect(lines).toContain(
    '          "strategy": { "kind": "lowest-free", "resume": true, "steal": "oldest" },',
  )
  expect(lines.slice(-6)).toEqual([
    '  "setList": ["tide"],',
    '  "switching": { "enterAt": "now", "controls": [] },',
    '  "clock": { "send": [], "afterSleep": "stop" },',
    '  "guards": { "supply": { "action": "refuse" }, "flash": { "action": "warn" } }',
    '}',
    '',
  ])
})

test('the order in which an object was put together makes no difference', () => {
  const show = good()
  const turned = Object.fromEntries(Object.entries(show).reverse()) as unknown as Show
  expect(formatShow(turned)).toBe(formatShow(show))
})

test('a number that JSON cannot hold is refused rather than lost', () => {
  const show = good()
  const songs = show.songs.map((song) => ({ ...song, tempo: Number.NaN }))
  expect(() => formatShow({ ...show, songs })).toThrow(new RangeError('a show cannot hold the number NaN'))
})

test('every field but strategy options has its place in the order', () => {
  const names = new Set<string>()
  const collect = (schema: unknown, field?: string): void => {
    if (typeof schema !== 'object' || schema === null || field === 'strategy') return
    for (const [key, value] of Object.entries(schema)) {
      if (key !== 'properties') collect(value)
      else {
        for (const [name, one] of Object.entries(value as object)) {
          names.add(name)
          collect(one, name)
        }
      }
    }
  }
  collect(showJsonSchema(strategies))
  expect(names.size).toBeGreaterThan(60)
  expect([...names].filter((name) => !ORDERED_FIELDS.has(name))).toEqual([])
})
