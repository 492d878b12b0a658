import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { lanthorn } from '../support/lanthorn.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouseText } from '../support/shows.ts'

function files(): { show: string; folder: string } {
  const folder = scratchFolder()
  const show = join(folder, 'show.json')
  writeFileSync(show, glasshouseText())
  return { show, folder }
}

test('0: done', () => {
  const { show } = files()
  expect(lanthorn('check', show).code).toBe(0)
  expect(lanthorn('--help')).toMatchObject({ code: 0, err: '' })
  expect(lanthorn('render', '--help').out).toContain('--map')
})

test.each([
  ['no such show', (f: string) => ['check', join(f, 'none.json')], /none\.json: there is no such file/],
  ['a folder for a show', (f: string) => ['check', f], /that is a folder; name a file/],
  [
    'a broken show',
    (f: string) => {
      writeFileSync(join(f, 'broken.json'), glasshouseText().replace('"title"', '"titel"'))
      return ['check', join(f, 'broken.json')]
    },
    /broken\.json: not a valid show; nothing was changed\n[\s\S]*titel[\s\S]*did you mean "title"/,
  ],
  [
    'a show that is no text',
    (f: string) => {
      writeFileSync(join(f, 'bytes.json'), Uint8Array.of(0xff, 0xfe, 0x00))
      return ['check', join(f, 'bytes.json')]
    },
    /not a UTF-8 text/,
  ],
  [
    'no such take',
    (f: string) => ['render', join(f, 'show.json'), join(f, 'none.mid'), '--out', f],
    /none\.mid: there is no/,
  ],
  [
    'a take that is none',
    (f: string) => ['render', join(f, 'show.json'), join(f, 'show.json'), '--out', join(f, 'out')],
    /show\.json: /,
  ],
  [
    'no such song',
    (f: string) => [
      'render',
      join(f, 'show.json'),
      join(f, 'show.json'),
      '--song',
      'none',
      '--out',
      join(f, 'out'),
    ],
    /The show has no song "none"; it has tide/,
  ],
])('1, with what, where and what to do: %s', (_, words, message) => {
  const { folder } = files()
  const ran = lanthorn(...words(folder))
  expect(ran.code).toBe(1)
  expect(ran.err).toMatch(message)
  expect(ran.err).not.toMatch(/\n\s+at /)
})

test.each([
  ['no command', []],
  ['an unknown command', ['sing']],
  ['an unknown option', ['check', 'x.json', '--loud']],
  ['a missing argument', ['check']],
  ['one too many', ['check', 'a.json', 'b.json']],
  ['render without --out', ['render', 'a.json', 'b.mid']],
  ['a --map that is none', ['render', 'a.json', 'b.mid', '--out', 'c', '--map', 'keys']],
  ['a track mapped twice', ['render', 'a.json', 'b.mid', '--out', 'c', '--map', '1=keys', '--map', '1=bass']],
])('2, wrong usage: %s', (_, words) => {
  const ran = lanthorn(...words)
  expect(ran.code).toBe(2)
  expect(ran.err.length).toBeGreaterThan(10)
  expect(ran.err).not.toMatch(/\n\s+at /)
})
