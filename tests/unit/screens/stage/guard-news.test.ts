import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { GuardNews } from '../../../../app/screens/stage/guard-news.ts'
import { guardNews, NO_GUARD_NEWS } from '../../../../app/screens/stage/guard-news.ts'
import { CONTRACT_VERSION } from '../../../../src/contract/version.ts'
import { guardCounts } from '../../../support/guard-counts.ts'
import { checkProperty } from '../../../support/property.ts'

type Flash = Parameters<typeof guardCounts>[0]
type Supply = Parameters<typeof guardCounts>[1]

/** Seconds, and what was counted then. */
type Look = readonly [at: number, flash?: Flash, supply?: Supply]

/** What is said aloud at each look: an empty word where nothing new is. */
function heard(looks: readonly Look[], song = 'tide', first: GuardNews = NO_GUARD_NEWS): string[] {
  let news = first
  return looks.map(([at, flash, supply]) => {
    const before = news
    news = guardNews(news, song, { v: CONTRACT_VERSION, ...guardCounts(flash, supply) }, at * 1e6)
    return news.text === before.text ? '' : news.text
  })
}

test('that a guard acts is said the first time in a song, and its figures never', () => {
  expect(
    heard([
      [1],
      [2, { action: 'fold', folded: 1 }],
      [3, { action: 'fold', folded: 4 }],
      [4, { action: 'fold', folded: 4 }, { refused: 1 }],
      [5, { action: 'fold', folded: 9 }, { refused: 7 }],
    ]),
  ).toEqual(['', 'The flash guard has acted.', '', 'The supply guard has acted.', ''])
})

test('more than three flashes a second are said as they begin, and as they have been over for five seconds', () => {
  expect(
    heard([
      [1, { lastSecond: 3 }],
      [2, { lastSecond: 4 }],
      [3, { lastSecond: 9 }],
      [4, { lastSecond: 3 }],
      [8.9, { lastSecond: 0 }],
      [9, { lastSecond: 0 }],
      [10, { lastSecond: 0 }],
      [11, { lastSecond: 5 }],
    ]),
  ).toEqual([
    '',
    'More than 3 flashes a second.',
    '',
    '',
    '',
    'No more than 3 flashes a second now.',
    '',
    'More than 3 flashes a second.',
  ])
})

test('flashes that come and go about the limit are said once', () => {
  const looks = Array.from({ length: 60 }, (_, at): Look => [at, { lastSecond: at % 4 === 0 ? 4 : 3 }])
  expect(heard(looks).filter((text) => text !== '')).toEqual(['More than 3 flashes a second.'])
})

test('of flashes nothing is said while the guard is off, also not that they have ended', () => {
  const off = { action: 'off', since: '2026-11-25' } as const
  expect(
    heard([
      [1, { lastSecond: 9 }],
      [2, { ...off, lastSecond: 9 }],
      [9, off],
    ]),
  ).toEqual(['More than 3 flashes a second.', '', ''])
  expect(heard([[1, { action: 'off', since: '2026-11-25', lastSecond: 20 }]])).toEqual([''])
})

test('another song begins anew, in silence', () => {
  const before: GuardNews = { ...NO_GUARD_NEWS, song: 'dew', text: 'x', isOver: true, hasFlashActed: true }
  expect(heard([[1], [2, { tied: 1 }]], 'tide', before)).toEqual(['', 'The flash guard has acted.'])
  expect(guardNews(before, 'tide', { v: CONTRACT_VERSION, ...guardCounts() }, 1e6)).toMatchObject({
    song: 'tide',
    text: '',
    isOver: false,
  })
})

const MORE = 'More than 3 flashes a second.'

test('whatever comes, beginnings and ends take turns, each end after five seconds without more than three', () => {
  const counts = fc.array(fc.nat({ max: 8 }), { minLength: 1, maxLength: 60 })
  checkProperty(
    'news of flashes',
    fc.property(counts, (flashes) => {
      const texts = heard(flashes.map((lastSecond, at): Look => [at, { lastSecond }]))
      const many = flashes.map((count) => count > 3)
      const told = texts.flatMap((text, at) => (text === '' ? [] : [{ text, at }]))
      // More, no more, more, ...
      expect(told.map(({ text }) => text)).toEqual(
        told.map((_, turn) => (turn % 2 === 0 ? MORE : 'No more than 3 flashes a second now.')),
      )
      const begun = told.filter(({ text }) => text === MORE)
      const ended = told.filter(({ text }) => text !== MORE)
      expect(begun.every(({ at }) => many[at])).toBe(true)
      expect(ended.every(({ at }) => at >= 5 && !many.slice(at - 5, at + 1).includes(true))).toBe(true)
      expect(told.length > 0).toBe(many.includes(true))
    }),
  )
})
