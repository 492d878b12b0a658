import { describe, expect, test } from 'vitest'
import { decode, type DecodeOut } from '../../../src/midi/decode.ts'
import { decodeBytes, decodePieces, noteOn } from '../../support/decoding.ts'

const fault = (words: string, count: number): DecodeOut => ({
  type: 'malformed',
  why: expect.stringContaining(words) as unknown as string,
  count,
})

describe('bytes that make no message', () => {
  test('stray data is told at once, the rest of the run before the next message', () => {
    expect(decodeBytes(1, 2, 3, 0x90, 60, 100)).toEqual([
      fault('without a status byte', 1),
      fault('without a status byte', 2),
      noteOn(60, 100),
    ])
  })

  test('a long run of noise gives few reports', () => {
    const out = decodePieces(Array.from({ length: 100 }, () => Array.from({ length: 1000 }, () => 5)))
    expect(out.length).toBeLessThan(30)
  })

  test.each([0xf4, 0xf5, 0xf9, 0xfd])('undefined status %i is told', (byte) => {
    expect(decodeBytes(byte)).toEqual([fault('does not define', 1)])
  })

  test.each([0xf9, 0xfd])('undefined real-time byte %i does not disturb the message around it', (byte) => {
    expect(decodeBytes(0x90, 60, byte, 100)).toEqual([fault('does not define', 1), noteOn(60, 100)])
  })

  test('a message cut off by the next status byte is told with what it cost', () => {
    expect(decodeBytes(0x90, 60, 0x91, 62, 100)).toEqual([fault('cut off', 2), noteOn(62, 100, 2)])
    expect(decodeBytes(0x90, 60, 100, 62, 0x90, 64, 100)).toEqual([
      noteOn(60, 100),
      fault('cut off', 1),
      noteOn(64, 100),
    ])
  })

  test('an end of system exclusive where none began', () => {
    expect(decodeBytes(0xf7)).toEqual([fault('F7', 1)])
  })

  test('numbers that are not bytes', () => {
    expect(decodeBytes(0x90, 300, -1, 60.5, Number.NaN, 60, 100)).toEqual([
      fault('not bytes', 1),
      fault('not bytes', 3),
      noteOn(60, 100),
    ])
    expect(decodeBytes(0x90, 60.5, 100).at(0)).toEqual(fault('not bytes', 1))
  })

  test('does not change the state it is given', () => {
    const state = decode.step(decode.start(), [0xf0, 1, 2], 0).state
    const before = JSON.stringify(state)
    decode.step(state, [3, 4, 0xf7, 0x90, 60], 0)
    expect(JSON.stringify(state)).toBe(before)
  })

  test('an oversized system exclusive still being skipped does not swallow a message that breaks it off', () => {
    const long = new Uint8Array((1 << 20) + 2).fill(1)
    long[0] = 0xf0
    let state = decode.step(decode.start(), long, 0).state
    state = decode.step(state, [0xf8], 0).state
    const step = decode.step(state, [0x90, 60, 100], 0)
    expect(step.out).toEqual([noteOn(60, 100)])
    expect(decode.step(step.state, [62, 100], 0).out).toEqual([noteOn(62, 100)])
  })
})
