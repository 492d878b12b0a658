import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import type { Player } from '../../../src/domain/player.ts'
import type { Control, ControlAct, ControlGesture } from '../../../src/domain/switching.ts'
import type { ControlsIn } from '../../../src/players/controls.ts'
import { controls } from '../../../src/players/controls.ts'

const KEYS = {
  id: 'keys',
  kind: 'keys',
  name: 'Keys',
  input: { port: 'Keybed', channels: [1, 2] },
  bendRange: 2,
}

const control = (on: ControlGesture, act: ControlAct = 'next', player = 'keys'): Control => ({
  player,
  on,
  do: act,
})

/** What becomes of each event: `pass ...`, an act, or nothing. */
function worked(all: readonly Control[], events: readonly ControlsIn[]): string[] {
  let state = controls.start({ player: KEYS as Player, controls: all })
  return events.map((event, at) => {
    const step = controls.step(state, event, at)
    state = JSON.parse(JSON.stringify(step.state)) as typeof state
    return step.out
      .map((out) => (out.kind === 'pass' ? `pass ${words(out.message)}` : JSON.stringify(out.act)))
      .join(' ')
  })
}

function words(message: MidiMessage): string {
  if (message.type === 'note-on') return `on ${message.key}`
  if (message.type === 'note-off') return `off ${message.key}`
  if (message.type === 'controller') return `cc${message.controller} ${message.value}`
  return message.type
}

const program = (number: number, channel = 1): MidiMessage => ({ type: 'program', channel, program: number })
const cc = (value: number, channel = 1, controller = 80): MidiMessage => ({
  type: 'controller',
  channel,
  controller,
  value,
})
const on = (key: number, channel = 1): MidiMessage => ({ type: 'note-on', channel, key, velocity: 90 })
const off = (key: number, channel = 1): MidiMessage => ({ type: 'note-off', channel, key, velocity: 64 })

test('a program change works its control, one that is none passes, and its number can be the place', () => {
  expect(worked([control({ kind: 'program', program: 3 }, 'dark')], [program(3), program(4)])).toEqual([
    '"dark"',
    'pass program',
  ])
  expect(worked([control({ kind: 'program' }, 'number')], [program(0), program(127)])).toEqual([
    '{"place":1}',
    '{"place":128}',
  ])
  expect(worked([control({ kind: 'program' }, { song: 'dew' })], [program(9)])).toEqual(['{"song":"dew"}'])
})

test('of two that fit, the one that says more is worked: its number, then its channel', () => {
  const all = [
    control({ kind: 'program' }, 'next'),
    control({ kind: 'program', channel: 2 }, 'previous'),
    control({ kind: 'program', program: 3 }, 'dark'),
  ]
  expect(worked(all, [program(1), program(1, 2), program(3, 2)])).toEqual(['"next"', '"previous"', '"dark"'])
  expect(worked(all.toReversed(), [program(1), program(1, 2), program(3, 2)])).toEqual([
    '"next"',
    '"previous"',
    '"dark"',
  ])
})

test('a controller works its control as it rises to 64, on each channel by itself, and is heard by nobody', () => {
  const values = [0, 63, 64, 65, 127, 64, 63, 0, 64].map((value) => cc(value))
  expect(worked([control({ kind: 'controller', controller: 80 })], values)).toEqual([
    '',
    '',
    '"next"',
    '',
    '',
    '',
    '',
    '',
    '"next"',
  ])
  const two = [cc(127), cc(127, 2), cc(127, 2), cc(0, 2), cc(127), cc(127, 2)]
  expect(worked([control({ kind: 'controller', controller: 80 })], two)).toEqual([
    '"next"',
    '"next"',
    '',
    '',
    '',
    '"next"',
  ])
  expect(worked([control({ kind: 'controller', controller: 80 })], [cc(127, 1, 81)])).toEqual([
    'pass cc81 127',
  ])
})

test('a note works its control, and its off goes with it; other keys are played', () => {
  expect(
    worked(
      [control({ kind: 'note', key: 36 })],
      [on(36), on(40), off(36), off(40), on(36), on(36), off(36), off(36)],
    ),
  ).toEqual(['"next"', 'pass on 40', '', 'pass off 40', '"next"', '"next"', '', 'pass off 36'])
})

test('without a channel it is any of the player, with one that one only, also beside those of the player', () => {
  expect(worked([control({ kind: 'note', key: 36 })], [on(36, 2), on(36, 10), off(36, 10)])).toEqual([
    '"next"',
    'pass on 36',
    'pass off 36',
  ])
  expect(worked([control({ kind: 'note', key: 36, channel: 2 })], [on(36), on(36, 2)])).toEqual([
    'pass on 36',
    '"next"',
  ])
  expect(worked([control({ kind: 'program', channel: 16 })], [program(1, 16), program(1)])).toEqual([
    '"next"',
    'pass program',
  ])
})

test("another player's controls are not this one's", () => {
  expect(worked([control({ kind: 'note', key: 36 }, 'next', 'pads')], [on(36)])).toEqual(['pass on 36'])
})

const edited = (...all: Control[]): ControlsIn => ({ kind: 'controls', controls: all })

test("a key that was down before it became a control: its note ends as the control is worked, and its off is the control's", () => {
  const note = control({ kind: 'note', key: 36 })
  expect(worked([], [on(36), edited(note), on(36), off(36), off(36)])).toEqual([
    'pass on 36',
    '',
    'pass off 36 "next"',
    '',
    'pass off 36',
  ])
  // Not struck again: the off ends the note.
  expect(worked([], [on(36), edited(note), off(36), on(36)])).toEqual([
    'pass on 36',
    '',
    'pass off 36',
    '"next"',
  ])
  // Down as a control, and let go when it is none any more.
  expect(worked([note], [on(36), edited(), off(36), on(36), off(36)])).toEqual([
    '"next"',
    '',
    '',
    'pass on 36',
    'pass off 36',
  ])
})

test('a pedal that was down before it became a control is let go for those who heard it pressed, and the other way round', () => {
  const pedal = control({ kind: 'controller', controller: 80 })
  expect(worked([], [cc(127), edited(pedal), cc(127), cc(0), cc(127), cc(0)])).toEqual([
    'pass cc80 127',
    '',
    '',
    'pass cc80 0',
    '"next"',
    '',
  ])
  expect(worked([pedal], [cc(127), edited(), cc(0), cc(127), cc(0)])).toEqual([
    '"next"',
    '',
    '',
    'pass cc80 127',
    'pass cc80 0',
  ])
})

test('a player that is gone has nothing down', () => {
  const all = [control({ kind: 'note', key: 36 }), control({ kind: 'controller', controller: 80 })]
  expect(worked(all, [on(36), cc(127), { kind: 'all-off' }, off(36), cc(127)])).toEqual([
    '"next"',
    '"next"',
    '',
    'pass off 36',
    '"next"',
  ])
})

test('bends, pressure, clock, parameters and the rest pass as they are', () => {
  const rest: MidiMessage[] = [
    { type: 'bend', channel: 1, value: 8192 },
    { type: 'clock' },
    { type: 'parameter', registered: true, channel: 1, parameter: 0, value: 256 },
    { type: 'sysex', data: [0x7d] },
    { type: 'channel-pressure', channel: 1, value: 3 },
  ]
  const all = [control({ kind: 'controller', controller: 6 }), control({ kind: 'program' })]
  expect(worked(all, rest)).toEqual(rest.map(({ type }) => `pass ${type}`))
})

test("a key that was down as a control and is struck again as a note: its off is the note's", () => {
  const note = control({ kind: 'note', key: 36 })
  expect(worked([note], [on(36), edited(), on(36), off(36)])).toEqual([
    '"next"',
    '',
    'pass on 36',
    'pass off 36',
  ])
})
