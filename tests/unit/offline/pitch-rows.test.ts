import { expect, test } from 'vitest'
import { pitchRows } from '../../../src/offline/pitch-rows.ts'
import { edited } from '../../support/edit-json.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const PART = 'songs.0.parts.0'

test('each key of the part on each of its lamps: asked, moved by octaves, made', () => {
  const show = validShow(
    edited(
      edited(edited(glasshouse(), `${PART}.notes`, [57, 69]), `${PART}.transpose`, 12),
      'rig.lamps.1.highHz',
      700,
    ),
  )
  const lamps = pitchRows(show, 'tide', 'lead') ?? []
  expect(lamps.map(({ lamp }) => lamp)).toEqual(['fern', 'moss', 'reed', 'sedge'])
  const [fern, moss] = lamps
  expect(fern?.rows.map(({ key }) => key)).toEqual([57, 58, 59, 60, 61, 62, 63, 64, 65, 66, 67, 68, 69])
  // ISO 16: key 69 is 440 Hz; played 57, an octave up. 16 MHz / 36364 is nearest (ATmega data sheet: f = clock / (prescaler x (1 + TOP))).
  expect(fern?.rows[0]).toMatchObject({ key: 57, octaves: 0, realHz: 16e6 / 36364 })
  expect(fern?.rows[0]?.asked).toBeCloseTo(440, 9)
  expect(moss?.rows[12]).toMatchObject({ key: 69, octaves: -1 })
  expect(moss?.rows[12]?.asked).toBeCloseTo(880, 9)
  expect(moss?.rows[12]?.hz).toBeCloseTo(440, 9)
})

test('a key with no octave on the lamp is refused, and only that is told', () => {
  const narrow = edited(edited(glasshouse(), 'rig.lamps.0.lowHz', 500), 'rig.lamps.0.highHz', 600)
  const show = validShow(edited(narrow, `${PART}.notes`, [69, 69]))
  const [row] = pitchRows(show, 'tide', 'lead')?.[0]?.rows ?? []
  expect(row).toEqual({ key: 69, asked: expect.closeTo(440, 9), octaves: null })
})

test('a chime has one key a lamp, partials their ratios, lamps that are never lit none', () => {
  const chime = validShow(
    edited(glasshouse(), `${PART}.strategy`, { kind: 'chime', notes: [60, 62, 64, 65] }),
  )
  expect(pitchRows(chime, 'tide', 'lead')?.map(({ rows }) => rows.map(({ key }) => key))).toEqual([
    [60],
    [62],
    [64],
    [65],
  ])
  const partials = validShow(
    edited(
      edited(glasshouse(), `${PART}.strategy`, { kind: 'partials', ratios: [1, 1.5] }),
      `${PART}.notes`,
      [69, 69],
    ),
  )
  const lamps = pitchRows(partials, 'tide', 'lead') ?? []
  expect(lamps.map(({ rows }) => rows.length)).toEqual([1, 1, 0, 0])
  expect(lamps[1]?.rows[0]?.asked).toBeCloseTo(660, 9)
})

test('no such song or part', () => {
  const show = validShow(glasshouse())
  expect(pitchRows(show, 'none', 'lead')).toBeUndefined()
  expect(pitchRows(show, 'tide', 'none')).toBeUndefined()
})
