import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { NumberKind } from '../../../../app/screens/rig/ranges.ts'
import {
  FLASH_CHOICES,
  GLOW_NUMBERS,
  LIMIT_NUMBERS,
  startingGuard,
  SUPPLY_CHOICES,
} from '../../../../app/screens/sheet/guard-choices.ts'
import { setFlashGuard, setSongFlash, setSupplyGuard } from '../../../../app/screens/sheet/guard-edits.ts'
import { localDay } from '../../../../app/screens/wording/local-day.ts'
import { guards } from '../../../../src/show/guard-schema.ts'
import { demoShow } from '../../../support/demo.ts'

interface Variant {
  readonly properties: Record<
    string,
    {
      readonly const?: string
      readonly default?: number
      readonly minimum?: number
      readonly maximum?: number
    }
  >
}

// The published schema of the show file, which other programs' editors go by.
const SCHEMA = JSON.parse(
  readFileSync(resolve(import.meta.dirname, '../../../../assets/show.schema.json'), 'utf8'),
)
const VARIANTS: readonly Variant[] = SCHEMA.properties.guards.properties.flash.oneOf
const fieldsOf = (action: string) =>
  VARIANTS.find(({ properties }) => properties['action']?.const === action)?.properties ?? {}

describe('choices', () => {
  test('are all that the published schema has, and no others', () => {
    expect(FLASH_CHOICES.map(({ value }) => value)).toEqual(
      VARIANTS.map(({ properties }) => properties['action']?.const),
    )
    expect(SUPPLY_CHOICES.map(({ value }) => value)).toEqual(
      SCHEMA.properties.guards.properties.supply.properties.action.enum,
    )
  })

  test.each([
    ['glow', GLOW_NUMBERS],
    ['limit', LIMIT_NUMBERS],
  ] as const)('of %s have the ends and the beginnings of the schema', (action, numbers) => {
    const fields = fieldsOf(action)
    const start = startingGuard(action, '') as unknown as Record<string, number>
    for (const [name, { min, max }] of Object.entries<NumberKind>(numbers)) {
      expect([min, max]).toEqual([fields[name]?.minimum, fields[name]?.maximum])
      expect(start[name]).toBe(fields[name]?.default)
    }
    expect(Object.keys(fields).toSorted()).toEqual(['action', ...Object.keys(numbers)].toSorted())
  })

  test.each(FLASH_CHOICES)('what $value begins with is taken as it is', ({ value }) => {
    const flash = startingGuard(value, '2026-11-25')
    expect(guards.parse({ flash }).flash).toEqual(flash)
  })
})

describe('edits', () => {
  test('put a whole guard in place of another, as one change', () => {
    const before = {
      ...demoShow(),
      guards: { ...demoShow().guards, flash: { action: 'glow', seconds: 9, hz: 30_000 } as const },
    }
    const edit = setFlashGuard({ action: 'off', since: '2026-11-25' })(before)
    expect(edit).toEqual({
      label: 'flash guard off since 2026-11-25',
      changes: [{ do: 'set', path: ['guards', 'flash'], value: { action: 'off', since: '2026-11-25' } }],
    })
    expect(setSupplyGuard('steal')(before)?.changes).toEqual([
      { do: 'set', path: ['guards', 'supply', 'action'], value: 'steal' },
    ])
  })

  test('of a song give it one of its own, and take it away', () => {
    const show = demoShow()
    const [first] = show.songs
    if (!first) throw new Error('the demo has no song')
    const own = setSongFlash(first.id, { action: 'limit', changes: 4 })(show)
    expect(own).toEqual({
      label: `flash guard of ${first.title}`,
      changes: [{ do: 'set', path: ['songs', 0, 'flash'], value: { action: 'limit', changes: 4 } }],
    })
    // It has none: there is nothing to take away.
    expect(setSongFlash(first.id, undefined)(show)).toBeUndefined()
    const songs = [{ ...first, flash: { action: 'fold' } as const }, ...show.songs.slice(1)]
    expect(setSongFlash(first.id, undefined)({ ...show, songs })?.changes).toEqual([
      { do: 'remove', path: ['songs', 0, 'flash'] },
    ])
  })
})

test('a day is the one on the wall here, to the last minute of it', () => {
  // ISO 8601 calendar date.
  expect(localDay(new Date(2026, 10, 25, 23, 59))).toBe('2026-11-25')
  expect(localDay(new Date(2027, 0, 1, 0, 0))).toBe('2027-01-01')
})
