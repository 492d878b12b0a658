import { expect, test } from 'vitest'
import type { EncoderEvent } from '../../../src/outputs/encoder-event.ts'
import { midiNoteEncoder, type NoteEncoderState } from '../../../src/outputs/midi-note-encoder.ts'
import { change, dark, lampsInSlots, lit, midiOutput } from '../../support/rig-outputs.ts'

const output = midiOutput({ layout: 'note-per-lamp', firstChannel: 10, firstNote: 36, dutyController: 74 })
const start = () => midiNoteEncoder.start({ output, lamps: lampsInSlots(3) })
const step = (state: NoteEncoderState, event: EncoderEvent) => {
  const { state: next, out } = midiNoteEncoder.step(state, event, 0)
  return { state: next, messages: out.map((one) => one.kind === 'message' && one.message) }
}
const note = (index: number, strike = true) =>
  change(index, lit({ drive: { kind: 'bend', key: 36 + index, bend: 8192 }, strike }))
const on = (key: number) => ({ type: 'note-on', channel: 10, key, velocity: 100 })
const off = (key: number) => ({ type: 'note-off', channel: 10, key, velocity: 64 })

test('a lamp is one key, nothing but on and off', () => {
  const first = step(start(), { kind: 'changes', changes: [note(2), note(0)] })
  expect(first.messages).toEqual([on(36), on(38)])
  expect(step(first.state, { kind: 'changes', changes: [dark(2), note(1)] }).messages).toEqual([
    off(38),
    on(37),
  ])
})

test('a strike of a lit lamp is off and on, a legato change nothing', () => {
  const first = step(start(), { kind: 'changes', changes: [note(0)] })
  expect(step(first.state, { kind: 'changes', changes: [note(0)] }).messages).toEqual([off(36), on(36)])
  expect(step(first.state, { kind: 'changes', changes: [note(0, false)] }).messages).toEqual([])
})

test.each(['dark-all', 'close'] as const)('%s: an off for every lit lamp, once', (kind) => {
  const first = step(start(), { kind: 'changes', changes: [note(0), note(2)] })
  const second = step(first.state, { kind })
  expect(second.messages).toEqual([off(36), off(38)])
  expect(step(second.state, { kind }).messages).toEqual([])
})

test('opened: nothing at first, later what is lit struck again', () => {
  expect(step(start(), { kind: 'open' }).messages).toEqual([])
  const first = step(start(), { kind: 'changes', changes: [note(1)] })
  expect(step(first.state, { kind: 'open' }).messages).toEqual([off(37), on(37)])
})

test('a slot past the last key is refused', () => {
  expect(() =>
    midiNoteEncoder.start({ output: { ...output, firstNote: 126 }, lamps: lampsInSlots(3) }),
  ).toThrow(/Output din: slot 2 would be key 128/)
})
