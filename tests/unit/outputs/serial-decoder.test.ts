import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../../src/outputs/serial-decoder.ts'
import type { SerialFrame } from '../../../src/outputs/serial-frame.ts'

const DARK: SerialFrame = { type: 'dark', sequence: 1 }
const decode = (...bytes: number[]) => {
  const state = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  return serialDecoder.step(state, { kind: 'bytes', bytes: Uint8Array.from(bytes) }, 0)
}

test('frames one after another', () => {
  const wire = encodeFrame(DARK)
  expect(decode(...wire, ...wire).out).toEqual([
    { kind: 'frame', frame: DARK },
    { kind: 'frame', frame: DARK },
  ])
})

test('a damaged frame is dropped and told of, the next one taken', () => {
  const wire = encodeFrame(DARK)
  const broken = Uint8Array.from(wire, (byte, at) => (at === 2 ? byte ^ 0x10 : byte))
  expect(decode(...broken, ...wire).out).toEqual([
    { kind: 'damaged', damage: 'crc', bytes: 5 },
    { kind: 'frame', frame: DARK },
  ])
})

test('idle 00 are nothing', () => {
  expect(decode(0, 0, 0).out).toEqual([])
})

test('a line without 00 fills no memory, and the frame after the next 00 is taken', () => {
  let state = serialDecoder.start({ maxBlock: 64 })
  for (let piece = 0; piece < 100; piece++) {
    const step = serialDecoder.step(state, { kind: 'bytes', bytes: new Uint8Array(50).fill(7) }, 0)
    expect(step.out).toEqual([])
    expect(step.state.block.length).toBeLessThanOrEqual(64)
    state = step.state
  }
  const bytes = Uint8Array.of(0, ...encodeFrame(DARK))
  expect(serialDecoder.step(state, { kind: 'bytes', bytes }, 0).out).toEqual([
    { kind: 'damaged', damage: 'too-long', bytes: 5000 },
    { kind: 'frame', frame: DARK },
  ])
})

test('the longest frame there is fits the default', () => {
  const lamps = Array.from({ length: 255 }, (_, slot) => ({ slot, rate: 0x0101_0101, duty: 0x0101 }))
  const frame: SerialFrame = { type: 'set', sequence: 1, at: 0, lamps }
  expect(decode(...encodeFrame(frame)).out).toEqual([{ kind: 'frame', frame }])
})
