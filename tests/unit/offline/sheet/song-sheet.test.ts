import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../../src/domain/cautions.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { songSheet } from '../../../../src/offline/song-sheet.ts'
import { demoShow } from '../../../support/demo.ts'
import { hostileShow } from '../../../support/hostile-show.ts'
import { htmlFaults } from '../../../support/html-faults.ts'
import { richShow } from '../../../support/rich-show.ts'
import { glasshouse } from '../../../support/shows.ts'
import { gigShow } from '../../../support/six-songs.ts'
import { validShow } from '../../../support/valid-show.ts'

const SHOWS: readonly (readonly [string, Show])[] = [
  ['the demo', demoShow()],
  ['six songs', validShow(gigShow())],
  ['every strategy', validShow(richShow())],
  ['a show of one song', validShow(glasshouse())],
  ['an empty set list', { ...demoShow(), setList: [] }],
  ['hostile texts', validShow(hostileShow())],
]

/** The words of a page in their order, one space between them. */
function wordsOf(html: string): string {
  return html
    .replace(/<style>.*?<\/style>/su, '')
    .replace(/<[^>]*>/gu, '')
    .replace(/\s+/gu, ' ')
}

/** The sheet of one song, from its title to the next sheet. */
function sheetOf(show: Show, title: string): string {
  const found = songSheet(show)
    .split('<section class="plate">')
    .filter((page) => page.includes(`<h2><bdi>${title}</bdi></h2>`))
  expect(found).toHaveLength(1)
  return wordsOf(found[0] ?? '')
}

test('the validator has something against a page that is wrong', () => {
  expect(htmlFaults('<!DOCTYPE html><html lang="en"><title>x</title><p><table></p>').length).toBeGreaterThan(
    0,
  )
})

describe.each(SHOWS)('%s', (_, show) => {
  test('is valid HTML', () => {
    expect(htmlFaults(songSheet(show))).toEqual([])
  })

  test('needs nothing besides itself and runs nothing', () => {
    const tags = [...songSheet(show).matchAll(/<([a-z]+)([^>]*)>/gu)]
    const names = new Set(tags.map(([, name]) => name))
    for (const name of ['script', 'link', 'img', 'iframe', 'object', 'use', 'a']) {
      expect(names).not.toContain(name)
    }
    expect(tags.filter(([, , attributes]) => /\s(src|href|on\w+|style)=/u.test(attributes ?? ''))).toEqual([])
    const css = /<style>(.*?)<\/style>/su.exec(songSheet(show))?.[1] ?? ''
    expect(css).toContain('@media print')
    expect(css).not.toMatch(/url\(|@import/u)
  })
})

test('the set list: places, lengths and their sum, what is skipped, variants', () => {
  const [dew, mist, growth, bare] = demoShow().songs
  if (!dew || !mist || !growth || !bare) throw new Error('four songs')
  const first = (show: Show): string => wordsOf(songSheet(show).split('<section class="plate">')[1] ?? '')
  expect(first(demoShow())).toContain(
    '1 Dew on the panes 4:30 2 Mist clock 6:00 3 Slow growth variant: Slow growth, no bass 7:15 4 Dew on the panes 4:30 Planned together 22:15',
  )
  const songs = [{ ...dew, minutes: undefined }, { ...mist, skip: true }, growth, bare]
  expect(first({ ...demoShow(), songs })).toContain(
    '1 Dew on the panes not said 2 Mist clock skipped: next and previous pass over it (6:00) 3 Slow growth variant: Slow growth, no bass 7:15 4 Dew on the panes not said ' +
      'Planned together (2 places without a planned length; without what is skipped) 7:15',
  )
  expect(first({ ...demoShow(), setList: [] })).toContain('The set list is empty.')
})

test('a sheet for each song once, variants after theirs, then what only a control goes to, then the cautions', () => {
  const titles = (show: Show): string[] =>
    [...songSheet(show).matchAll(/<h2>(?:<bdi>)?(.*?)(?:<\/bdi>)?<\/h2>/gu)].map(([, title]) => title ?? '')
  expect(titles(demoShow())).toEqual([
    'Dew on the panes',
    'Mist clock',
    'Slow growth',
    'Slow growth, no bass',
    'Controls and cautions',
  ])
  const controls = [{ player: 'pads', on: { kind: 'note', key: 1 }, do: { song: 'mist' } }] as const
  const show = { ...demoShow(), setList: ['growth-bare'], switching: { enterAt: 'now', controls } } as const
  expect(titles(show)).toEqual(['Slow growth', 'Slow growth, no bass', 'Mist clock', 'Controls and cautions'])
  expect(titles({ ...show, setList: [], switching: { enterAt: 'now', controls: [] } })).toEqual([
    'Controls and cautions',
  ])
})

test('a song: what it is, and what is for its players', () => {
  const words = sheetOf(demoShow(), 'Slow growth')
  expect(words).toContain('Glasshouse, second night, place 3 of 4')
  expect(words).toContain('Tempo 82.4063 beats a minute Beats 4 beats a bar')
  expect(words).toContain(
    'Tuning nineteen: 19 equal steps to the octave; C4 (60) sounds 261.625565 Hz Enters cut: every lamp goes dark, then it begins When at once when asked for Planned 7:15',
  )
  expect(words).toContain('Variants Slow growth, no bass')
  expect(words).toContain(
    'For the players Keys: up to E4 the round, above it the leaves. If the bass is tired: the variant, no bass.',
  )
  expect(sheetOf(demoShow(), 'Slow growth, no bass')).toContain('Variant of Slow growth')
  expect(sheetOf(demoShow(), 'Slow growth, no bass')).toContain('not a place of its own')
  expect(sheetOf(demoShow(), 'Dew on the panes')).toContain('places 1 and 4 of 4')
})

test('a song: parts and lamps', () => {
  const words = sheetOf(demoShow(), 'Slow growth')
  expect(words).toContain(
    'leaves Keys nearest: each note takes the free lamp whose last pitch is closest; where none is free, the oldest note gives way from F4 (65) up 24 up 0.1 to 0.5 by controller 74; 0.3 until it moves none',
  )
  expect(words).toContain('all 7 up 0.12 its lamps, while it plays and 800 ms longer')
  expect(words).toContain(
    'Palm, by the tank bench, 12 V leaves (Keys) 2nd of 4; stems (Bass) 1st of 3, claims it',
  )
  expect(words).not.toContain('Dark in this song')
  const [dew] = demoShow().songs
  if (!dew) throw new Error('a song')
  const lone = { ...demoShow(), songs: [{ ...dew, parts: dew.parts.slice(0, 1) }], setList: ['dew'] }
  expect(sheetOf(lone, 'Dew on the panes')).toContain('Dark in this song: Ivy; Palm, by the tank; Lotus;')
})

test('a song: what each player does to come to it', () => {
  expect(sheetOf(demoShow(), 'Slow growth')).toContain(
    'Keys program change 2; press controller 80, in Mist clock; press controller 81, in Slow growth, no bass ' +
      'Pads pad C#3 (49), in Mist clock Bass nothing of theirs leads here',
  )
  const silent = { ...demoShow(), switching: { enterAt: 'bar', controls: [] } } as const
  expect(sheetOf(silent, 'Mist clock')).toContain('No player’s control leads here: choose it on a screen.')
  expect(sheetOf(silent, 'Mist clock')).toContain('When on the next bar of the song that plays')
})

test('the last sheet: every control, every caution in the words that the screens have', () => {
  const words = wordsOf(songSheet(demoShow()).split('<section class="plate">').at(-1) ?? '')
  expect(words).toContain(
    'Keys any program change the place of its number: program change 0 is place 1, and so on ' +
      'Keys press controller 80 the next song of the set list ' +
      'Keys press controller 81 the next variant of the song that plays, and round again ' +
      'Pads pad C#3 (49) the next song of the set list',
  )
  expect(CAUTIONS.length).toBeGreaterThan(3)
  for (const caution of CAUTIONS) expect(words).toContain(caution)
})
