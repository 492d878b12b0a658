import { expect, test } from 'vitest'
import { pathText } from '../../../src/show/json-path.ts'
import { formatFault, formatFaults } from '../../../src/show/show-fault.ts'

test('a fault reads as path, line, what is there, what should be, what was perhaps meant', () => {
  const fault = {
    path: '$.songs[0].tempoo',
    line: 41,
    column: 7,
    found: 'unknown field "tempoo"',
    expected: 'one of "tempo", "beats", "enter"',
    hint: 'did you mean "tempo"?',
  }
  expect(formatFault(fault)).toBe(
    '$.songs[0].tempoo (line 41): unknown field "tempoo"; expected one of "tempo", "beats", "enter"; did you mean "tempo"?',
  )
})

test('the hundred first faults are written out, the others counted', () => {
  const faults = Array.from({ length: 130 }, (_, index) => ({
    path: `$[${index}]`,
    found: 'x',
    expected: 'y',
  }))
  const lines = formatFaults(faults).split('\n')
  expect(lines).toHaveLength(101)
  expect(lines.slice(-2)).toEqual(['$[99]: x; expected y', 'and 30 more'])
})

test('odd names in a path are quoted', () => {
  expect(pathText(['songs', 0, 'two words', '', 'x"y'])).toBe('$.songs[0]["two words"][""]["x\\"y"]')
})
