import { describe, expect, test } from 'vitest'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatFault } from '../../../src/show/show-fault.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { BROKEN_SHOWS, GOOD } from '../../support/broken-shows.ts'

describe('a broken show is told', () => {
  test.each(BROKEN_SHOWS)('%s', (_, text, ...messages) => {
    const parsed = parseShow(text, strategies)
    expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual(messages)
  })
})

test('the show that they are made from is good', () => {
  expect(parseShow(GOOD, strategies)).toMatchObject({ ok: true })
})
