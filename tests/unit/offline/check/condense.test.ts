import { expect, test } from 'vitest'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { condensed } from '../../../../src/offline/check/condense.ts'
import type { CheckFinding } from '../../../../src/offline/check/finding.ts'
import { formatFindings } from '../../../../src/offline/check/format-findings.ts'
import { lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import { validShow } from '../../../support/valid-show.ts'

const finding = (gravity: CheckFinding['gravity'], where: string, message: string) => ({
  gravity,
  where,
  message,
})

test('the same in many places is said once', () => {
  const five = ['a', 'b', 'c', 'd', 'e'].map((where) => finding('note', where, 'too slow'))
  expect(condensed(five)).toEqual([finding('note', 'a; b; c and 2 more', 'too slow')])
})

test('of many different ones the gravest are told, the others counted', () => {
  const many = Array.from({ length: 30 }, (_, index) =>
    finding(index === 29 ? 'fault' : 'note', `song ${index}`, `n ${index}`),
  )
  const told = condensed(many)
  expect(told).toHaveLength(11)
  expect(told[0]).toEqual(many[29])
  expect(told.at(-1)?.message).toContain('20 more findings of this kind')
})

test('findings as text', () => {
  const text = formatFindings([
    finding('fault', 'song tide', 'word '.repeat(30).trim()),
    finding('note', 'x', 'y'),
  ])
  expect(text.split('\n')).toEqual([
    'fault: song tide',
    `    ${'word '.repeat(19).trim()}`,
    `    ${'word '.repeat(11).trim()}`,
    'note: x',
    '    y',
    '1 fault, 0 warnings, 1 note',
  ])
})

test('64 lamps, 12 parts and 200 songs do not make a flood', () => {
  const lamps = Array.from({ length: 64 }, (_, slot) => ({
    id: `plant-${slot}`,
    output: 'wire',
    slot,
    supply: 'bench',
    watts: 10,
    trimCents: slot / 10,
  }))
  const part = (song: number, index: number) =>
    lead({ id: `part-${index}`, lamps: lamps.map(({ id }) => id), notes: [index, 127 - (song % 50)] })
  const songs = Array.from({ length: 200 }, (_, song) =>
    tide(
      Array.from({ length: 12 }, (_, index) => part(song, index)),
      { id: `song-${song}`, tempo: 60 + song },
    ),
  )
  const show = validShow(quietHouse({ rig: { ...rig(), lamps }, songs }))
  expect(checkShow(show).length).toBeLessThan(60)
})
