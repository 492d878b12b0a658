import { describe, expect, test } from 'vitest'
import { decode, MAX_SYSEX } from '../../../src/midi/decode.ts'
import { decodeBytes, decodePieces, noteOn } from '../../support/decoding.ts'

describe('system exclusive in a stream', () => {
  test('arrives in pieces of any size', () => {
    expect(decodePieces([[0xf0, 1], [2, 3], [], [4], [0xf7]])).toEqual([
      { type: 'sysex', data: [1, 2, 3, 4] },
    ])
  })

  test('may be empty', () => {
    expect(decodeBytes(0xf0, 0xf7)).toEqual([{ type: 'sysex', data: [] }])
  })

  test('broken off by a status byte is dropped whole and told with its bytes; the next message is taken', () => {
    expect(
      decodePieces([
        [0xf0, 1, 2],
        [3, 0x90, 60, 100],
      ]),
    ).toEqual([{ type: 'malformed', why: expect.stringContaining('broken off'), count: 4 }, noteOn(60, 100)])
  })

  test('broken off by another system exclusive: the second is kept', () => {
    expect(decodeBytes(0xf0, 1, 0xf0, 2, 0xf7)).toEqual([
      { type: 'malformed', why: expect.stringContaining('broken off'), count: 2 },
      { type: 'sysex', data: [2] },
    ])
  })

  test('the longest kept is 1 MiB', () => {
    const bytes = new Uint8Array(MAX_SYSEX + 2).fill(7)
    bytes[0] = 0xf0
    bytes[bytes.length - 1] = 0xf7
    const [message] = decode.step(decode.start(), bytes, 0).out
    expect(message?.type === 'sysex' && message.data.length).toBe(MAX_SYSEX)
  })

  test('a longer one is dropped, every byte of it counted, in few reports; the state stays small', () => {
    let state = decode.start()
    const out = []
    const piece = new Uint8Array(1 << 16).fill(7)
    for (let i = 0; i < 20; i++) {
      const step = decode.step(state, i === 0 ? [0xf0, ...piece] : piece, 0)
      state = step.state
      out.push(...step.out)
    }
    expect(state.sysex).toBeNull()
    out.push(...decode.step(state, [0xf7, 0x90, 60, 100], 0).out)
    expect(out.pop()).toEqual(noteOn(60, 100))
    const lost = out.map((message) => (message.type === 'malformed' ? message.count : 0))
    expect(lost.reduce((sum, n) => sum + n, 0)).toBe(20 * (1 << 16) + 2)
    expect(out.length).toBeLessThan(100)
    expect(JSON.stringify(out[0])).toContain('longer than 1 MiB')
  })

  test('1 MiB byte by byte is kept in few pieces, so that no byte is copied often', () => {
    let state = decode.step(decode.start(), [0xf0], 0).state
    const byte = [7]
    let most = 0
    for (let i = 0; i < MAX_SYSEX; i++) {
      state = decode.step(state, byte, 0).state
      most = Math.max(most, state.sysex?.pieces.length ?? 0)
    }
    expect(state.sysex?.length).toBe(MAX_SYSEX)
    expect(most).toBeLessThan(64)
  })
})
