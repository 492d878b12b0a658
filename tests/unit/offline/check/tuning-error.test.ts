import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

test('a slow clock is off, and the worst pitch is told', () => {
  // 31250 / 1760 = 17.76, so 18 ticks: 1736.11 Hz, 1200 log2(1736.11 / 1760) = -23.66 cents. 31250 / 440 = 71.02, 71 ticks: +0.6 cents.
  // Formula: ATmega640/1280/2560 data sheet, fast PWM.
  const timer = { clockHz: 31_250, prescalers: [1], bits: 16 }
  const slow = rig({}, [{ id: 'wire', kind: 'serial', port: 'virtual', timer }])
  const at = (key: number) =>
    found(quietHouse({ rig: slow, songs: [tide([lead({ notes: [key, key] })])] })).filter((one) =>
      one.includes('cents'),
    )
  expect(at(93)).toEqual([
    expect.stringMatching(
      /^warning, \$\.rig\.outputs\[0\]: 4 pitches of lamps fern, moss, reed and sedge on output wire are more than 5 cents off. The worst is key A6 \(93\) of song tide, part lead on lamp fern: 1760 Hz asked, 1736.11 Hz made, -23.7 cents/,
    ),
  ])
  expect(at(69)).toEqual([])
})

test('a lamp that is one fixed key is off for any other', () => {
  const fixed = rig({}, [{ id: 'wire', kind: 'midi', port: 'Box', layout: 'note-per-lamp', firstNote: 60 }])
  const chime = (notes: number[]) =>
    quietHouse({ rig: fixed, songs: [tide([lead({ strategy: { kind: 'chime', notes } })])] })
  expect(found(chime([60, 61, 62, 63]))).toEqual([])
  expect(found(chime([60, 61, 62, 64]))).toEqual([
    expect.stringMatching(/1 pitch of lamp sedge .* is more than 5 cents off.* -100\.0 cents/),
  ])
})

test('a bend that follows the pitch is within its step', () => {
  const bent = rig({ trimCents: 37 }, [{ id: 'wire', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }])
  expect(found(quietHouse({ rig: bent, songs: [tide([lead({ notes: [36, 100] })])] }))).toEqual([])
})
