import { expect, test } from 'vitest'
import { matchPort, rememberPort } from '../../../../app/engine/ports/port-match.ts'
import type { RememberedPort } from '../../../../app/engine/ports/port-match.ts'

const found = (place: number) => ({ kind: 'found', place })
const missing = { kind: 'missing' }
const ask = (...places: number[]) => expect.objectContaining({ kind: 'ambiguous', places })

test.each<[string, RememberedPort, string[], unknown]>([
  ['the exact name', { name: 'Fern' }, ['Moss', 'Fern'], found(1)],
  ['the exact name before a numbered one', { name: 'Fern' }, ['2- Fern', 'Fern'], found(1)],
  ['a number in front that came', { name: 'Fern', nth: 0, of: 1 }, ['Moss', '2- Fern'], found(1)],
  ['a number in front that changed', { name: '2- Fern', nth: 0, of: 1 }, ['3- Fern'], found(0)],
  ['an address that changed', { name: 'Fern 20:0', nth: 0, of: 1 }, ['Moss 20:0', 'Fern 24:0'], found(1)],
  ['a name in another composition', { name: 'Cafe\u0301' }, ['Caf\u00e9'], found(0)],
  ['an empty name', { name: '' }, ['Fern', ''], found(1)],
  ['an empty name is no other name', { name: '' }, ['Fern'], missing],
  ['no ports', { name: 'Fern' }, [], missing],
  ['another socket of the device is not it', { name: 'Fern 1' }, ['Fern 2'], missing],
  ['the second of two equal names', { name: 'Fern', nth: 1, of: 2 }, ['Fern', 'Moss', 'Fern'], found(2)],
  ['the first of two equal names', { name: 'Fern', nth: 0, of: 2 }, ['Fern', 'Moss', 'Fern'], found(0)],
  ['one of two equal names is back', { name: 'Fern', nth: 0, of: 2 }, ['Moss', 'Fern'], ask(1)],
  ['one of two with counts is back', { name: '2- Fern', nth: 1, of: 2 }, ['2- Fern'], ask(0)],
  ['the second of two with counts', { name: '2- Fern', nth: 1, of: 2 }, ['2- Fern', 'Fern'], found(0)],
  [
    'two with new addresses, in order',
    { name: 'Fern 20:0', nth: 1, of: 2 },
    ['Fern 28:0', 'Fern 32:0'],
    found(1),
  ],
  [
    'one of two, at an address that says nothing',
    { name: 'Fern 20:0', nth: 0, of: 2 },
    ['Fern 20:0'],
    ask(0),
  ],
  ['one of two, at the other’s address', { name: 'Fern 24:0', nth: 1, of: 2 }, ['Fern 20:0'], ask(0)],
  ['more than were remembered', { name: 'Fern', nth: 0, of: 1 }, ['Fern', 'Fern'], ask(0, 1)],
  ['nobody ever chose between two', { name: 'Fern' }, ['Fern', 'Fern'], ask(0, 1)],
  ['of two with nothing else known, the one counted', { name: 'Fern', nth: 1 }, ['Fern', 'Fern'], found(1)],
  ['the port’s part of a longer name', { name: 'Fern' }, ['Client-02:Fern 20:0'], found(0)],
  ['the client’s part, with two ports', { name: 'Fern' }, ['Fern:a 20:0', 'Fern:b 20:1'], ask(0, 1)],
  ['a whole name before a part', { name: 'Fern' }, ['Client:Fern', 'Fern'], found(1)],
])('%s', (_what, remembered, list, answer) => {
  expect(matchPort(remembered, list)).toEqual(answer)
})

test('a place that is held is not found again; of all there, the one left is', () => {
  expect(matchPort({ name: 'Fern', nth: 0, of: 1 }, ['Fern'], new Set([0]))).toEqual(missing)
  expect(matchPort({ name: 'Fern', nth: 1, of: 2 }, ['Fern'], new Set([0]))).toEqual(missing)
  expect(matchPort({ name: 'Fern', nth: 0, of: 2 }, ['Fern', 'Fern'], new Set([0]))).toEqual(found(1))
})

test('what is remembered is found in the same list, and the question names the choices', () => {
  const list = ['Fern', 'Moss', '2- Fern', 'Fern', '']
  for (const place of list.keys()) expect(matchPort(rememberPort(list, place), list)).toEqual(found(place))
  const asked = matchPort({ name: 'Fern 24:0', nth: 1, of: 2 }, ['Moss', 'Fern 20:0'])
  expect(asked).toMatchObject({ question: expect.stringContaining('number 2 of 2') })
  expect(asked).toMatchObject({ question: expect.stringContaining('"Fern 20:0" (place 2 in the list)') })
})
