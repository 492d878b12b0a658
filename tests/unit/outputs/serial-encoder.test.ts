import { expect, test } from 'vitest'
import type { LampChange } from '../../../src/domain/lamp-state.ts'
import type { EncoderEvent, EncoderOut } from '../../../src/outputs/encoder-event.ts'
import { decodeFrame } from '../../../src/outputs/frame-wire.ts'
import { serialEncoder, type SerialEncoderState } from '../../../src/outputs/serial-encoder.ts'
import { change, dark, lampsInSlots, lit, WIRE } from '../../support/rig-outputs.ts'

const start = (count: number) => serialEncoder.start({ output: WIRE, lamps: lampsInSlots(count) })
const frames = (out: readonly EncoderOut[]) =>
  out.map((one) => (one.kind === 'bytes' ? decodeFrame(one.bytes.subarray(0, -1)) : 'no bytes'))
const step = (state: SerialEncoderState, event: EncoderEvent, now = 0) => {
  const { state: next, out } = serialEncoder.step(state, event, now)
  return { state: next, frames: frames(out) }
}
const sounding = (index: number, rate: number, more = {}): LampChange =>
  change(index, lit({ drive: { kind: 'timer', rate, prescaler: 1, top: 9 }, ...more }))
const changes = (...list: LampChange[]): EncoderEvent => ({ kind: 'changes', changes: list })

test('opening: hello, then every lamp as it is', () => {
  const lamp = step(start(2), changes(sounding(1, 500)))
  const { frames } = step(lamp.state, { kind: 'open' })
  expect(frames).toEqual([
    { type: 'hello', sequence: 1, version: 1 },
    {
      type: 'set',
      sequence: 2,
      at: 0,
      lamps: [
        { slot: 0, rate: 0, duty: 0 },
        { slot: 1, rate: 500, duty: 32768 },
      ],
    },
  ])
})

test('the changes of one moment are one frame: dark lamps first, then lit, in slot order', () => {
  const first = step(start(4), changes(sounding(1, 11), sounding(3, 13)))
  const { frames } = step(first.state, changes(sounding(2, 22), dark(3), sounding(0, 20), dark(1)))
  expect(frames).toEqual([
    {
      type: 'set',
      sequence: 1,
      at: 0,
      lamps: [
        { slot: 1, rate: 0, duty: 0 },
        { slot: 3, rate: 0, duty: 0 },
        { slot: 0, rate: 20, duty: 32768 },
        { slot: 2, rate: 22, duty: 32768 },
      ],
    },
  ])
})

test('what stays the same on the wire is not sent again, a strike neither', () => {
  const first = step(start(2), changes(sounding(0, 500)))
  expect(step(first.state, changes(sounding(0, 500, { strike: true, note: 2 }))).frames).toEqual([])
  expect(step(first.state, changes(dark(1))).frames).toEqual([])
  expect(step(first.state, changes(sounding(0, 500, { duty: 0.25 }))).frames).toHaveLength(1)
})

test('of two changes of a lamp in one moment the last counts; other outputs lamps are passed over', () => {
  const { frames } = step(start(1), changes(dark(0), sounding(0, 5), sounding(0, 6), sounding(9, 7)))
  expect(frames).toEqual([{ type: 'set', sequence: 0, at: 0, lamps: [{ slot: 0, rate: 6, duty: 32768 }] }])
})

test.each(['dark-all', 'close'] as const)('%s: one dark frame, and all are dark from then on', (kind) => {
  const first = step(start(2), changes(sounding(0, 500), sounding(1, 600)))
  const second = step(first.state, { kind })
  expect(second.frames).toEqual([{ type: 'dark', sequence: 1 }])
  expect(step(second.state, changes(dark(0), dark(1))).frames).toEqual([])
  expect(step(second.state, changes(sounding(0, 500))).frames).toHaveLength(1)
})

test('over 35 lamps are several frames, each one run', () => {
  const { out } = serialEncoder.step(start(80), { kind: 'open' }, 0)
  expect(frames(out).map((frame) => typeof frame === 'object' && 'lamps' in frame && frame.lamps)).toEqual([
    false,
    expect.objectContaining({ length: 35 }),
    expect.objectContaining({ length: 35 }),
    expect.objectContaining({ length: 10 }),
  ])
  for (const one of out) expect(one.kind === 'bytes' && one.bytes.length).toBeLessThanOrEqual(256)
})

test('the sequence counts frames and wraps after 255', () => {
  let state = start(1)
  for (let count = 0; count < 300; count++) {
    const next = step(state, { kind: 'beat' }, 2 ** 32 + count)
    expect(next.frames).toEqual([{ type: 'beat', sequence: count % 256, micros: count }])
    state = next.state
  }
})

test('a MIDI drive is refused with the place named', () => {
  const wrong = change(0, lit({ drive: { kind: 'bend', key: 69, bend: 8192 } }))
  expect(() => step(start(1), changes(wrong))).toThrow(/Output wire, slot 0/)
})
