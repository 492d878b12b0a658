import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { partTunings } from '../../src/offline/tuning/part-tuning.ts'
import { tuningText } from '../../src/offline/tuning/tuning-text.ts'
import { DEMO_SHOW, demoShow } from '../support/demo.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { scratchFolder } from '../support/scratch.ts'
import { parseScale } from '../../src/tuning/scale-file.ts'
import { scaleText } from '../../src/offline/tuning/scale-table.ts'
import { glasshouseText } from '../support/shows.ts'

const SCL = '! fifths.scl\n!\nA fifth and an octave\n 2\n!\n 3/2\n 2/1\n'
/** Two keys of three, from key 60 on, which sounds 250 Hz. */
const KBM = '3\n0\n127\n60\n60\n250.0\n2\n0\nx\n1\n'

function files(): string {
  const folder = scratchFolder()
  writeFileSync(join(folder, 'show.json'), glasshouseText())
  writeFileSync(join(folder, 'broken.json'), '{}')
  writeFileSync(join(folder, 'fifths.SCL'), SCL)
  writeFileSync(join(folder, 'white.kbm'), KBM)
  writeFileSync(join(folder, 'torn.scl'), 'torn\n3\n3/2\n')
  writeFileSync(join(folder, 'old.scl'), Buffer.from('Cr\xe9puscule\n1\n2/1\n', 'latin1'))
  return folder
}

test('every part of every song of a show, on standard output alone', () => {
  const show = demoShow()
  const ran = lanthorn('tuning', DEMO_SHOW)
  expect(ran).toEqual({ code: 0, err: '', out: `${tuningText(partTunings(show, {}))}\n` })
  for (const { id, parts } of show.songs)
    for (const part of parts)
      expect(ran.out).toMatch(new RegExp(`^song ${id} .*, part ${part.id}, player `, 'm'))
})

test('a chord of one part, as text and as lines of JSON', () => {
  const show = join(files(), 'show.json')
  const words = ['tuning', show, '--song', 'tide', '--part', 'lead', '--lamp', 'moss', '--chord', '60, 67']
  expect(lanthorn(...words)).toMatchObject({
    code: 0,
    err: '',
    out: expect.stringMatching(/C4 +60 .* moss\n/),
  })
  const lines = lanthorn(...words.slice(0, 6), '--chord', '60,67', '--json')
    .out.trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as Record<string, unknown>)
  expect(lines.map(({ kind }) => kind)).toEqual(['part', 'tone', 'tone', 'interval', 'farthest'])
  expect(lines[3]).toMatchObject({ wantedCents: 700, partials: { ratio: '3:2' } })
})

test('a scale file by itself and with its map', () => {
  const folder = files()
  const path = join(folder, 'fifths.SCL')
  const plain = parseScale({ name: path, text: SCL })
  if (!plain.ok) throw new Error(plain.faults.join())
  const ran = lanthorn('tuning', path)
  expect(ran).toEqual({
    code: 0,
    err: '',
    out: `${scaleText({ id: 'scale', kind: 'scale', ...plain.scale })}\n`,
  })
  expect(ran.out).toMatch(/^A fifth and an octave: 2 degrees; C4 \(60\) sounds 261\.6255653 Hz$/m)
  const mapped = lanthorn('tuning', path, '--map', join(folder, 'white.kbm')).out
  expect(mapped).toMatch(/^ {2}D4 +62 +375\.0000 +701\.9550 /m)
  expect(mapped).toMatch(/no pitch for .*\(\d+\)/)
  const [head, ...keys] = lanthorn('tuning', path, '--json').out.trimEnd().split('\n')
  expect(JSON.parse(head ?? '')).toMatchObject({ kind: 'scale', degrees: 2 })
  expect(keys).toHaveLength(128)
  expect(lanthorn('tuning', join(folder, 'old.scl')).out).toMatch(/^Cr\u00e9puscule: 1 degree;/)
})

test.each([
  ['no such scale', ['none.scl'], /none\.scl: there is no such file/],
  ['a scale that ends too soon', ['torn.scl'], /torn\.scl \(line \d\): found 1 pitch; expected 3/],
  ['no such map', ['fifths.SCL', '--map', 'none.kbm'], /none\.kbm: there is no such file/],
  ['no such show', ['none.json'], /none\.json: there is no such file/],
  ['a broken show', ['broken.json'], /not a valid show/],
  ['no such song', ['show.json', '--song', 'ebb'], /The show has no song "ebb"; it has tide/],
  [
    'no such part',
    ['show.json', '--song', 'tide', '--part', 'low'],
    /The song "tide" has no part "low"; it has lead/,
  ],
  [
    'no such lamp',
    ['show.json', '--lamp', 'ivy'],
    /The show has no lamp "ivy"; it has fern, moss, reed, sedge/,
  ],
])('1, with what, where and what to do: %s', (_, [file = '', ...more], message) => {
  const ran = lanthorn('tuning', join(files(), file), ...more)
  expect(ran).toMatchObject({ code: 1, out: '' })
  expect(ran.err).toMatch(message)
  expect(ran.err).not.toMatch(/\n\s+at /)
})

test.each([
  ['without a file', []],
  ['a key that is none', ['show.json', '--chord', '60,128']],
  ['a chord that is none', ['show.json', '--chord', 'C4']],
  ['a map for a show', ['show.json', '--map', 'some.kbm']],
  ['a song for a scale', ['fifths.SCL', '--song', 'tide']],
])('2, wrong usage: %s', (_, [file, ...more]) => {
  const ran = lanthorn('tuning', ...(file === undefined ? [] : [join(files(), file)]), ...more)
  expect(ran).toMatchObject({ code: 2, out: '' })
  expect(ran.err.length).toBeGreaterThan(10)
})
