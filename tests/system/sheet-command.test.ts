import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { songSheet } from '../../src/offline/song-sheet.ts'
import { DEMO_SHOW, demoShow } from '../support/demo.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouseText } from '../support/shows.ts'

function files(): { show: string; folder: string } {
  const folder = scratchFolder()
  const show = join(folder, 'show.json')
  writeFileSync(show, glasshouseText())
  return { show, folder }
}

test('writes the sheet, over an earlier one too, and leaves nothing beside it', () => {
  const folder = scratchFolder()
  const out = join(folder, 'sheet.html')
  writeFileSync(out, 'an earlier one')
  expect(lanthorn('sheet', DEMO_SHOW, '--out', out)).toMatchObject({ code: 0, err: '' })
  expect(readFileSync(out, 'utf8')).toBe(songSheet(demoShow()))
  expect(readdirSync(folder)).toEqual(['sheet.html'])
})

test.each([
  ['itself', (show: string) => show],
  [
    'itself by another name',
    (show: string, folder: string) => {
      symlinkSync(show, join(folder, 'link.html'))
      return join(folder, 'link.html')
    },
  ],
])('1: never over the show: %s', (_, outOf) => {
  const { show, folder } = files()
  const ran = lanthorn('sheet', show, '--out', outOf(show, folder))
  expect(ran).toMatchObject({ code: 1, out: '' })
  expect(ran.err).toMatch(/is the show itself, and would be overwritten; name another file with --out/)
  expect(readFileSync(show, 'utf8')).toBe(glasshouseText())
})

test('1: nor over a show that has the name of a sheet that is not whole yet', () => {
  const { folder } = files()
  const show = join(folder, 'sheet.html.part')
  writeFileSync(show, glasshouseText())
  expect(lanthorn('sheet', show, '--out', join(folder, 'sheet.html')).code).toBe(1)
  expect(readFileSync(show, 'utf8')).toBe(glasshouseText())
})

test.each([
  [
    'no such show',
    (f: string) => ['sheet', join(f, 'none.json'), '--out', join(f, 'a.html')],
    /none\.json: there is no such file/,
  ],
  [
    'no such folder',
    (f: string) => ['sheet', join(f, 'show.json'), '--out', join(f, 'none', 'a.html')],
    /there is no folder .*none; make it/,
  ],
  [
    'a folder for a file',
    (f: string) => ['sheet', join(f, 'show.json'), '--out', join(f, 'folder')],
    /that is a folder; name a file/,
  ],
  [
    'a broken show',
    (f: string) => {
      writeFileSync(join(f, 'broken.json'), '{}')
      return ['sheet', join(f, 'broken.json'), '--out', join(f, 'a.html')]
    },
    /not a valid show/,
  ],
])('1, with what, where and what to do, and nothing written: %s', (_, words, message) => {
  const { folder } = files()
  mkdirSync(join(folder, 'folder'))
  const given = words(folder)
  const before = readdirSync(folder)
  const ran = lanthorn(...given)
  expect(ran.code).toBe(1)
  expect(ran.err).toMatch(message)
  expect(ran.err).not.toMatch(/\n\s+at /)
  expect(readdirSync(folder)).toEqual(before)
})

test.each([
  ['without --out', ['sheet', 'show.json']],
  ['without a show', ['sheet', '--out', 'a.html']],
  ['one show too many', ['sheet', 'a.json', 'b.json', '--out', 'a.html']],
])('2, wrong usage: %s', (_, words) => {
  const ran = lanthorn(...words)
  expect(ran.code).toBe(2)
  expect(ran.err.length).toBeGreaterThan(10)
  expect(existsSync('a.html')).toBe(false)
})
