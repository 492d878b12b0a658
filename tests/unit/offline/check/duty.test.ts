import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

test('a duty outside what a lamp may have is trimmed', () => {
  const tight = rig({ minDuty: 0.1, maxDuty: 0.4 })
  const duty = (given: object) =>
    found(quietHouse({ rig: tight, songs: [tide([lead({ duty: { ...given } })])] }))
  expect(duty({ base: 0.5 })).toEqual([
    'note, song tide, part lead: lamps fern, moss, reed and sedge: duty is kept within 0.1 to 0.4 (minDuty, maxDuty): base 0.5 becomes 0.4.',
  ])
  expect(duty({ velocity: true })[0]).toMatch(/: low 0.05 becomes 0.1, high 0.5 becomes 0.4\.$/)
  expect(duty({ keys: [36, 84], base: 0.9 })[0]).toMatch(/: low 0.05 becomes 0.1, high 0.5 becomes 0.4\.$/)
  expect(duty({ sweepSeconds: 20 })[0]).toMatch(/: low 0.05 becomes 0.1, high 0.5 becomes 0.4\.$/)
  expect(duty({ base: 0.4 })).toEqual([])
})

const midi = (more: object) =>
  rig({}, [{ id: 'wire', kind: 'midi', port: 'Box', layout: 'mpe', bendRange: 2, ...more }])

test('a duty that moves where no output carries it', () => {
  const songs = [tide([lead({ duty: { controller: 1 } })])]
  expect(found(quietHouse({ rig: midi({}), songs }))).toEqual([
    expect.stringContaining('the controller changes nothing'),
  ])
  expect(found(quietHouse({ rig: midi({ dutyController: 74 }), songs }))).toEqual([])
  for (const [duty, by] of [
    [{ keys: [36, 84] }, 'the key'],
    [{ sweepSeconds: 9 }, 'the sweep'],
    [{ velocity: true }, 'velocity'],
  ] as const)
    expect(
      found(quietHouse({ rig: midi({}), songs: [tide([lead({ duty: { ...duty } as never })])] })),
    ).toEqual([expect.stringContaining(`${by} changes nothing`)])
})
