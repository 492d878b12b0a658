import { expect, test } from 'vitest'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatFault } from '../../../src/show/show-fault.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

function faults(flash: RawShow): string[] {
  const parsed = parseShow(JSON.stringify(glasshouse({ guards: { flash } })), strategies)
  return parsed.ok ? [] : parsed.faults.map(formatFault)
}

test.each([
  [{ action: 'warn' }, { action: 'warn' }],
  [{ action: 'fold' }, { action: 'fold' }],
  [{ action: 'glow' }, { action: 'glow', seconds: 4, hz: 25_000 }],
  // Three flashes of two changes each: WCAG 2.2, success criterion 2.3.1.
  [{ action: 'limit' }, { action: 'limit', changes: 6 }],
  [
    { action: 'off', since: '2026-11-25' },
    { action: 'off', since: '2026-11-25' },
  ],
])('a flash guard %o is read as %o', (raw: RawShow, read) => {
  expect(validShow(glasshouse({ guards: { flash: raw } })).guards.flash).toEqual(read)
})

const A_DAY = 'expected a day as year-month-day, such as "2026-11-25"'

test.each([
  [{ action: 'off' }, `since (line 1): the field "since" is missing; ${A_DAY}`],
  [{ action: 'off', since: 'yesterday' }, `since (line 1): found "yesterday"; ${A_DAY}`],
  [{ action: 'off', since: '2026-02-30' }, `since (line 1): found "2026-02-30"; ${A_DAY}`],
  [{ action: 'limit', changes: 1 }, 'changes (line 1): found 1; expected a whole number from 2 to 120'],
  [{ action: 'glow', hz: 19_999 }, 'hz (line 1): found 19999; expected a number from 20000 to 65000'],
  [{ action: 'warn', since: '2026-11-25' }, 'since (line 1): unknown field "since"; expected "action"'],
])('a flash guard %o is refused, and what was expected is said', (raw: RawShow, message) => {
  expect(faults(raw)).toEqual([`$.guards.flash.${message}`])
})
