import { expect, test } from 'vitest'
import { newcomers, othersPlaces } from '../../../../app/engine/ports/own-ports.ts'

test('what is there more often than before is new', () => {
  expect(newcomers(['Fern', 'Moss'], ['Moss', 'Fern', 'Fern', 'Reed'])).toEqual(['Fern', 'Reed'])
  expect(newcomers(['Fern'], [])).toEqual([])
})

test('our own are left out; of equal names the last', () => {
  expect(othersPlaces(['Fern', 'Moss', 'Fern'], ['Fern'])).toEqual([0, 1])
  expect(othersPlaces(['Fern', 'Moss'], ['Reed'])).toEqual([0, 1])
  expect(othersPlaces([], ['Fern'])).toEqual([])
})
