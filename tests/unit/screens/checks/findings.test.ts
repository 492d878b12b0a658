import { expect, test } from 'vitest'
import { mendLink } from '../../../../app/screens/checks/mend-link.ts'
import type { Finding } from '../../../../app/screens/checks/sift-findings.ts'
import {
  EVERY_SONG,
  GRAVITIES,
  isCaution,
  NO_SONG,
  sifted,
} from '../../../../app/screens/checks/sift-findings.ts'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { demoShow } from '../../../support/demo.ts'

const show = demoShow()

test.each([
  [['rig', 'lamps', 2], 'rig', []],
  [['rig', 'outputs'], 'rig', []],
  [['players'], 'rig', []],
  [['thru', 0], 'rig', []],
  [['songs', 1, 'parts', 2], 'sheet', ['mist', 'taps']],
  [['songs', 3, 'patterns', 0, 'rows', 1], 'steps', ['growth-bare', 'five']],
  [['songs', 1, 'patterns', 0], 'sheet', ['mist']],
  [['songs', 1], 'sheet', ['mist']],
  [['songs', 1, 'tempo'], 'sheet', ['mist']],
  [['songs', 99], 'sheet', []],
  [['songs', 1, 'parts', 99], 'sheet', ['mist']],
  [['setList'], 'songs', []],
  [['switching', 'controls', 1], 'songs', []],
  [['tunings', 0], 'tuning', []],
  [['guards', 'flash'], 'rig', []],
])('%j is mended in %s %j', (path, room, rest) => {
  expect(mendLink(path, show)).toMatchObject({ room, rest })
})

test('nowhere in particular', () => {
  expect(mendLink(undefined, show)).toBeUndefined()
  expect(mendLink([], show)).toBeUndefined()
  expect(mendLink(['title'], show)).toBeUndefined()
  expect(mendLink(['constructor'], show)).toBeUndefined()
})

test('everything that a check finds, but the caution, has a link', () => {
  const without = checkShow(show).filter(({ path }) => !mendLink(path, show))
  expect(without.map((one) => isCaution({ ...one }))).toEqual([true])
})

const finding = (gravity: Finding['gravity'], where: string, path?: Finding['path']): Finding => ({
  gravity,
  where,
  message: 'm',
  ...(path ? { path } : {}),
})

const FINDINGS = [
  finding('fault', '$.rig.outputs[1]', ['rig', 'outputs', 1]),
  finding('warning', 'song mist, part arc; song growth, part leaves', ['songs', 1, 'parts', 0]),
  finding('note', 'song dew', ['songs', 0]),
  finding('note', 'song dew; song dew-2; song mist and 4 more', ['songs', 0]),
  finding('note', 'every show'),
]
const all = new Set(GRAVITIES)

function shown(song: string, gravities: ReadonlySet<Finding['gravity']> = all): number[] {
  return sifted(FINDINGS, { gravities, song }, show).map((one) => FINDINGS.indexOf(one))
}

test('by gravity; the caution is none of them', () => {
  expect(shown(EVERY_SONG)).toEqual([0, 1, 2, 3])
  expect(shown(EVERY_SONG, new Set(['note']))).toEqual([2, 3])
  expect(shown(EVERY_SONG, new Set())).toEqual([])
})

test('by song: by its path, by its words, and where more places than are named may be meant', () => {
  expect(shown('dew')).toEqual([2, 3])
  expect(shown('mist')).toEqual([1, 3])
  expect(shown('growth')).toEqual([1, 3])
  expect(shown(NO_SONG)).toEqual([0])
})
