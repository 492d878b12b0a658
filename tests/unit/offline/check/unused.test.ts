import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

const PEDAL = { player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'next' }

test('lamps, players, songs, outputs and supplies that the set list never needs', () => {
  const wire = { id: 'wire', kind: 'serial', port: 'virtual' }
  const show = quietHouse({
    rig: {
      ...rig({}, [wire, { id: 'din', kind: 'midi', port: 'Box', layout: 'mpe' }]),
      supplies: [
        { id: 'bench', volts: 12, maxAmps: 5 },
        { id: 'spare', volts: 12, maxAmps: 1 },
      ],
    },
    players: [
      { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
      { id: 'bass', kind: 'strings', input: { port: 'Bass' } },
    ],
    // The lamps of a song that is not played do not count as used.
    songs: [
      tide([lead({ lamps: ['fern'] })]),
      { id: 'ebb', title: 'Ebb', parts: [lead()] },
      { id: 'slack', title: 'Slack water', parts: [] },
    ],
    setList: ['tide', 'slack'],
    switching: { controls: [PEDAL] },
  })
  expect(found(show)).toEqual([
    expect.stringMatching(/^warning, \$\.rig\.lamps: lamps moss, reed and sedge are in no song/),
    expect.stringMatching(/^warning, \$\.players: player bass is in no song/),
    expect.stringMatching(/^warning, \$\.songs: song slack is on the set list without a part/),
    expect.stringMatching(/^note, \$\.setList: song ebb is not on the set list/),
    expect.stringMatching(/^note, \$\.rig\.outputs: output din has no lamp/),
    expect.stringMatching(/^note, \$\.rig\.supplies: supply spare feeds no lamp/),
  ])
})

test('lamps beyond the partials are never lit', () => {
  const part = lead({ strategy: { kind: 'partials', ratios: [1, 2] }, notes: [36, 90] })
  expect(found(quietHouse({ songs: [tide([part])] }))).toEqual([
    expect.stringContaining('lamps reed and sedge are in no song'),
    expect.stringContaining('lamps reed and sedge are listed, but no note of this partials goes there'),
  ])
})

test('variants of what is played, songs that a control goes to, and whoever works a control are used', () => {
  const feet = { id: 'feet', kind: 'pads', input: { port: 'Feet' } }
  const show = quietHouse({
    players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }, feet],
    songs: [
      tide([lead({ lamps: ['fern'] })]),
      tide([lead({ lamps: ['moss'] })], { id: 'ebb', variantOf: 'tide' }),
      tide([lead({ lamps: ['reed'] })], { id: 'slack' }),
      tide([lead({ lamps: ['sedge'] })], { id: 'neap', variantOf: 'slack' }),
    ],
    setList: ['tide'],
    switching: { controls: [{ ...PEDAL, player: 'feet', do: { song: 'slack' } }] },
  })
  expect(found(show)).toEqual([])
  expect(found({ ...show, switching: {} })).toEqual([
    expect.stringContaining('lamps reed and sedge are in no song'),
    expect.stringContaining('player feet is in no song'),
    expect.stringContaining('songs slack and neap are not on the set list, and no control goes there'),
  ])
})
