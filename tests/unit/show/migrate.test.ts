import { expect, test } from 'vitest'
import type { Migration } from '../../../src/show/migrate.ts'
import { migrate, SHOW_VERSION } from '../../../src/show/migrate.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatFault } from '../../../src/show/show-fault.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { glasshouse } from '../../support/shows.ts'

/** Version 0 never was; here it called the title a name. */
const fromZero: Migration = {
  from: 0,
  note: '"name" is now called "title"',
  apply: ({ name, ...rest }) => ({ ...rest, title: name }),
}

function versionZero(): string {
  const { title, ...rest } = glasshouse()
  return JSON.stringify({ ...rest, version: 0, name: title }, null, 2)
}

test('an older show is brought up to date, and says so', () => {
  const parsed = parseShow(versionZero(), strategies, [fromZero])
  expect(parsed).toMatchObject({
    ok: true,
    show: { version: 1, title: 'Glasshouse' },
    notes: ['brought from version 0 to 1: "name" is now called "title"'],
  })
})

test('faults of a migrated show carry no line, which would be of the old text', () => {
  const text = versionZero().replace('"Glasshouse"', '7')
  const parsed = parseShow(text, strategies, [fromZero])
  expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([
    '$.title: found 7; expected text of 1 to 200 characters',
  ])
})

test('a migration that fails is a fault, not a throw', () => {
  const failing: Migration = {
    ...fromZero,
    apply: () => {
      throw new Error('it has no name')
    },
  }
  const parsed = parseShow(versionZero(), strategies, [failing])
  expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([
    '$.version (line 3): version 0 could not be brought up to date: it has no name; nothing was changed; expected version 1',
  ])
})

test('migrations go a version at a time, in any order of the list, and never change what they are given', () => {
  const older: Migration = { from: -1, note: 'older', apply: (show) => ({ ...show, name: show.called }) }
  const given = Object.freeze({ version: -1, called: 'Glasshouse' })
  expect(migrate(given, -1, [fromZero, older])).toEqual({
    ok: true,
    show: { version: SHOW_VERSION, called: 'Glasshouse', title: 'Glasshouse' },
    notes: [
      'brought from version -1 to 0: older',
      'brought from version 0 to 1: "name" is now called "title"',
    ],
  })
  expect(migrate(given, -1, [older])).toEqual({ ok: false, stuckAt: 0 })
})
