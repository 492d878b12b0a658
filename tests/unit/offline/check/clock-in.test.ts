import { expect, test } from 'vitest'
import { found, quietHouse, rig } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'

const DIN = { id: 'din', kind: 'midi', port: 'Drum tower', layout: 'channel-per-lamp' }
const KEYS = { id: 'keys', kind: 'keys', input: { port: 'Drum tower', channels: [1] } }

const following = (clock: RawShow, more: RawShow = {}) => found(quietHouse({ clock, ...more }))

test('a clock that is followed and goes nowhere, or elsewhere, is nothing to tell of', () => {
  expect(following({ follow: 'Drum tower' })).toEqual([])
  expect(following({ follow: 'Drum tower', send: ['Lamp hall'] })).toEqual([])
  // A player may play on the port that the clock comes from.
  expect(following({ follow: 'Drum tower' }, { players: [KEYS] })).toEqual([])
})

test('one that goes back to its sender is warned of, by whichever way', () => {
  const back =
    /^warning, \$\.clock\.follow: the clock of port "Drum tower" is followed, and goes back to it: /
  expect(following({ follow: 'Drum tower', send: ['Lamp hall', 'Drum tower'] })).toEqual([
    expect.stringMatching(new RegExp(`${back.source}it is in "clock\\.send"`)),
  ])
  const thru = [{ player: 'keys', to: 'din', pass: ['clock'] }]
  const house = { players: [KEYS], rig: rig({ output: 'din' }, [DIN]) }
  expect(following({ follow: 'Drum tower' }, { ...house, thru })).toEqual([
    expect.stringMatching(new RegExp(`${back.source}player keys is passed on to it`)),
  ])
  expect(following({ follow: 'Drum tower' }, house)).toEqual([])
})

test('a name that is nearly a player’s, or a serial port’s', () => {
  expect(following({ follow: 'Drumtower' }, { players: [KEYS] })).toEqual([
    expect.stringMatching(/^note, \$\.clock\.follow: no player is on a port "Drumtower", .* "Drum tower"/),
  ])
  const wire = { id: 'wire', kind: 'serial', port: '/dev/ttyUSB0' }
  expect(following({ follow: '/dev/ttyUSB0' }, { rig: rig({}, [wire]) })).toEqual([
    expect.stringMatching(/^warning, \$\.clock\.follow: "\/dev\/ttyUSB0" is the serial port of output wire/),
  ])
})

test('a control that taps has nothing to say while a clock is followed', () => {
  const controls = [{ player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'tap' }]
  expect(following({}, { switching: { controls } })).toEqual([])
  expect(following({ follow: 'Drum tower' }, { switching: { controls } })).toEqual([
    expect.stringMatching(/^note, \$\.switching\.controls\[0\]: 1 control taps a tempo, .* taps do nothing/),
  ])
})
