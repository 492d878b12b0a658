import { expect, test } from 'vitest'
import type { LampChange, Lit } from '../../../src/domain/lamp-state.ts'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { MidiOutput } from '../../../src/domain/rig.ts'
import type { EncoderEvent } from '../../../src/outputs/encoder-event.ts'
import { type ChannelEncoderState, midiChannelEncoder } from '../../../src/outputs/midi-channel-encoder.ts'
import { change, dark, lampsInSlots, lit, midiOutput } from '../../support/rig-outputs.ts'

const start = (count: number, more: Partial<MidiOutput> = {}) =>
  midiChannelEncoder.start({ output: midiOutput(more), lamps: lampsInSlots(count) })
const step = (state: ChannelEncoderState, event: EncoderEvent) => {
  const { state: next, out } = midiChannelEncoder.step(state, event, 0)
  return { state: next, lines: out.map((one) => (one.kind === 'message' ? line(one.message) : 'bytes')) }
}
const line = (message: MidiMessage): string => {
  switch (message.type) {
    case 'note-on':
      return `${message.channel} on ${message.key} ${message.velocity}`
    case 'note-off':
      return `${message.channel} off ${message.key}`
    case 'bend':
      return `${message.channel} bend ${message.value}`
    case 'controller':
      return `${message.channel} cc${message.controller} ${message.value}`
    default:
      return message.type
  }
}
const note = (index: number, key: number, more: Partial<Lit> = {}): LampChange =>
  change(index, lit({ drive: { kind: 'bend', key, bend: 8192 }, realHz: midiKeyToHz(key), ...more }))
const legato = { strike: false }
const changes = (...list: LampChange[]): EncoderEvent => ({ kind: 'changes', changes: list })
const range = (channel: number, semitones: number) => [
  `${channel} cc101 0`,
  `${channel} cc100 0`,
  `${channel} cc6 ${semitones}`,
  `${channel} cc38 0`,
  `${channel} cc101 127`,
  `${channel} cc100 127`,
]

test('opening: the bend range on every channel in use', () => {
  expect(step(start(2, { firstChannel: 3 }), { kind: 'open' }).lines).toEqual([
    ...range(3, 2),
    ...range(4, 2),
  ])
})

test('opening by MPE: the zone on channel 1, its own bend range and centre, then the members bend range', () => {
  const { lines } = step(start(2, { layout: 'mpe', bendRange: 48 }), { kind: 'open' })
  const zone = ['1 cc101 0', '1 cc100 6', '1 cc6 2', '1 cc38 0', '1 cc101 127', '1 cc100 127']
  expect(lines).toEqual([...zone, ...range(1, 2), '1 bend 8192', ...range(2, 48), ...range(3, 48)])
})

test('the first note sends bend and duty, the next only what differs', () => {
  const first = step(start(1, { dutyController: 74 }), changes(note(0, 69)))
  expect(first.lines).toEqual(['1 bend 8192', '1 cc74 64', '1 on 69 100'])
  const second = step(first.state, changes(note(0, 71)))
  expect(second.lines).toEqual(['1 off 69', '1 on 71 100'])
  const third = step(second.state, changes(note(0, 71, { duty: 0.25 })))
  expect(third.lines).toEqual(['1 off 71', '1 cc74 32', '1 on 71 100'])
})

test('a legato change from the same key is the bend as resolved', () => {
  const first = step(start(1), changes(note(0, 69)))
  const bent = note(0, 69, { ...legato, drive: { kind: 'bend', key: 69, bend: 12288 } })
  expect(step(first.state, changes(bent)).lines).toEqual(['1 bend 12288'])
})

test('a legato change to another key in reach is a bend to its pitch', () => {
  const first = step(start(1), changes(note(0, 69)))
  const second = step(first.state, changes(note(0, 70, legato)))
  expect(second.lines).toEqual(['1 bend 12288'])
  expect(step(second.state, changes(dark(0))).lines).toEqual(['1 off 69'])
})

test('a legato change from another key that no bend of the receiver makes exactly is a new strike', () => {
  // 7 bits, range 12: a step is 12 x 100 / 64 = 18.75 cents (MIDI 1.0), so sixteen steps are three semitones, and no whole number of them is one.
  const coarse = { bendBits: 7, bendRange: 12 }
  const first = step(start(1, coarse), changes(note(0, 69)))
  const three = note(0, 72, legato)
  expect(step(first.state, changes(three)).lines).toEqual([`1 bend ${8192 + 16 * 128}`])
  const one = note(0, 70, legato)
  expect(step(first.state, changes(one)).lines).toEqual(['1 off 69', '1 on 70 100'])
})

test('a legato change out of reach is a new strike', () => {
  const first = step(start(1), changes(note(0, 69)))
  expect(step(first.state, changes(note(0, 76, legato))).lines).toEqual(['1 off 69', '1 on 76 100'])
})

test('a lit state for a dark lamp is a strike, asked for or not', () => {
  expect(step(start(1), changes(note(0, 69, legato))).lines).toEqual(['1 bend 8192', '1 on 69 100'])
})

test('every off of a moment goes before anything else, in slot order', () => {
  const first = step(start(3), changes(note(2, 62), note(0, 60), note(1, 61)))
  const { lines } = step(first.state, changes(note(0, 70), dark(2), note(1, 71)))
  expect(lines).toEqual(['1 off 60', '2 off 61', '3 off 62', '1 on 70 100', '2 on 71 100'])
})

test.each(['dark-all', 'close'] as const)('%s: an off for every sounding key, once', (kind) => {
  const first = step(start(3), changes(note(0, 60), note(2, 62)))
  const second = step(first.state, { kind })
  expect(second.lines).toEqual(['1 off 60', '3 off 62'])
  expect(step(second.state, { kind }).lines).toEqual([])
})

test('opened again: off, set up, and what is lit struck again with bend and duty', () => {
  const first = step(start(2, { dutyController: 74 }), changes(note(1, 62)))
  expect(step(first.state, { kind: 'open' }).lines).toEqual([
    '2 off 62',
    ...range(1, 2),
    ...range(2, 2),
    '2 bend 8192',
    '2 cc74 64',
    '2 on 62 100',
  ])
})

test('a slot without a channel and a timer drive are refused with the place named', () => {
  expect(() => start(3, { firstChannel: 15 })).toThrow(/Output din: slot 2 would be channel 17/)
  expect(() => start(16, { layout: 'mpe' })).toThrow(/slot 15 would be channel 17/)
  const wrong = change(0, lit({ drive: { kind: 'timer', rate: 1, prescaler: 1, top: 1 } }))
  expect(() => step(start(1), changes(wrong))).toThrow(/Output din, channel 1/)
})
