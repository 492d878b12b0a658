import { expect, test } from 'vitest'
import type { FlashGuard } from '../../../../src/domain/flash-guard.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { songSheet } from '../../../../src/offline/song-sheet.ts'
import { demoShow } from '../../../support/demo.ts'
import { pageWords } from '../../../support/page-words.ts'

const OFF: FlashGuard = { action: 'off', since: '2031-02-28' }

function guarded(flash: FlashGuard, ofMist?: FlashGuard): Show {
  const show = demoShow()
  const songs = show.songs.map((song) => (song.id === 'mist' ? { ...song, flash: ofMist } : song))
  return { ...show, songs, guards: { ...show.guards, flash } }
}

test('the set list says what the flash guard does, and since when it is off', () => {
  const words = (flash: FlashGuard): string => pageWords(songSheet(guarded(flash)))
  expect(words({ action: 'warn' })).toContain('The flash guard warns: flashes are counted and told')
  expect(words({ action: 'fold' })).toContain(
    'The flash guard folds: rates of 3 to 60 Hz move up by octaves.',
  )
  expect(words({ action: 'limit', changes: 4 })).toContain('The flash guard limits: at most 4 changes')
  expect(words({ action: 'glow', seconds: 9, hz: 25_000 })).toContain('The flash guard glows: between notes')
  expect(words(OFF)).toContain('The flash guard is off since 2031-02-28: nothing is told or held back.')
})

test('a song says it where its flash guard is another, and the set list names the song; others do not', () => {
  const apart = songSheet(guarded({ action: 'fold' }, OFF))
  expect(pageWords(apart)).toContain('In Mist clock it is off since 2031-02-28')
  const sheets = apart.split('<section class="plate">').map(pageWords)
  const ofTheirOwn = sheets.filter((words) => words.includes('Flash guard is off since 2031-02-28'))
  expect(ofTheirOwn).toHaveLength(1)
  expect(ofTheirOwn[0]).toContain('Mist clock')
  // The same said once more is no other.
  expect(songSheet(guarded(OFF, OFF))).toBe(songSheet(guarded(OFF)))
})
