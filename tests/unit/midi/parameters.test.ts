import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { encode } from '../../../src/midi/encode.ts'
import { parameters } from '../../../src/midi/parameters.ts'
import { decodeBytes } from '../../support/decoding.ts'

function run(messages: readonly MidiMessage[]): MidiMessage[] {
  let state = parameters.start()
  return messages.flatMap((message) => {
    const step = parameters.step(state, message, 0)
    state = JSON.parse(JSON.stringify(step.state))
    return step.out
  })
}

const cc = (...pairs: [number, number][]): MidiMessage[] =>
  pairs.map(([controller, value]) => ({ type: 'controller', channel: 1, controller, value }))

/** The parameters found, as [number, value]; the messages themselves must all pass. */
function found(messages: readonly MidiMessage[]): (number | boolean)[][] {
  const out = run(messages)
  expect(out.filter((message) => message.type !== 'parameter')).toEqual(messages)
  return out.flatMap((message) =>
    message.type === 'parameter' ? [[message.registered, message.parameter, message.value]] : [],
  )
}

describe('registered and non-registered parameters', () => {
  test('bend range: number, upper half, lower half', () => {
    expect(found(cc([101, 0], [100, 0], [6, 12], [38, 50]))).toEqual([
      [true, 0, 12 << 7],
      [true, 0, (12 << 7) | 50],
    ])
  })

  test('the number may come lower half first', () => {
    expect(found(cc([100, 2], [101, 1], [6, 3]))).toEqual([[true, 130, 384]])
  })

  test('the upper half zeroes the lower', () => {
    expect(found(cc([101, 0], [100, 0], [6, 1], [38, 9], [6, 2])).at(-1)).toEqual([true, 0, 256])
  })

  test('non-registered ones are told apart', () => {
    expect(found(cc([99, 1], [98, 2], [6, 3], [38, 4]))).toEqual([
      [false, 130, 384],
      [false, 130, 388],
    ])
  })

  test('no parameter without both halves of its number', () => {
    expect(found(cc([101, 0], [6, 12]))).toEqual([])
    expect(found(cc([6, 12], [38, 1], [96, 0]))).toEqual([])
  })

  test('half a number of one kind does not complete one of the other', () => {
    expect(found(cc([101, 0], [100, 0], [99, 5], [6, 1]))).toEqual([])
    expect(found(cc([99, 5], [98, 0], [100, 0], [6, 1]))).toEqual([])
  })

  test.each([
    [101, 100],
    [99, 98],
  ])('null (7F 7F) through %i %i deselects', (msb, lsb) => {
    expect(found(cc([101, 0], [100, 0], [msb, 127], [lsb, 127], [6, 12], [96, 0]))).toEqual([])
  })

  test('channels are apart', () => {
    const other = { type: 'controller', channel: 2, controller: 6, value: 7 } as const
    expect(found([...cc([101, 0], [100, 0]), other])).toEqual([])
  })

  test('increment and decrement of a bend range count cents (MMA RP-018, from memory)', () => {
    const select = cc([101, 0], [100, 0], [6, 2], [38, 99])
    expect(found([...select, ...cc([96, 0])]).at(-1)).toEqual([true, 0, 3 << 7])
    expect(found([...select, ...cc([96, 0], [97, 0])]).at(-1)).toEqual([true, 0, (2 << 7) | 99])
  })

  test('the bend range before anyone sets it is two semitones (General MIDI 1, from memory)', () => {
    expect(found(cc([101, 0], [100, 0], [96, 0]))).toEqual([[true, 0, (2 << 7) | 1]])
  })

  test('coarse tuning counts semitones, fine tuning steps; both stop at their ends', () => {
    expect(found(cc([101, 0], [100, 2], [97, 0]))).toEqual([[true, 2, 63 << 7]])
    expect(found(cc([101, 0], [100, 1], [96, 0]))).toEqual([[true, 1, 8193]])
    expect(found(cc([101, 0], [100, 1], [6, 127], [38, 127], [96, 0])).at(-1)).toEqual([true, 1, 16383])
    expect(found(cc([101, 0], [100, 0], [6, 0], [97, 0])).at(-1)).toEqual([true, 0, 0])
  })

  test('an unknown non-registered value cannot be counted from', () => {
    expect(found(cc([99, 1], [98, 2], [96, 0]))).toEqual([])
    expect(found(cc([99, 1], [98, 2], [6, 1], [96, 0])).at(-1)).toEqual([false, 130, 129])
  })

  test('a registered value is remembered while another is selected', () => {
    expect(found(cc([101, 0], [100, 0], [6, 12], [100, 1], [6, 64], [100, 0], [96, 0])).at(-1)).toEqual([
      true,
      0,
      (12 << 7) | 1,
    ])
  })

  test('reset all controllers (121) deselects and keeps the values (MMA RP-015, from memory)', () => {
    const set = cc([101, 0], [100, 0], [6, 12], [121, 0])
    expect(found([...set, ...cc([6, 5])])).toHaveLength(1)
    expect(found([...set, ...cc([101, 0], [100, 0], [96, 0])]).at(-1)).toEqual([true, 0, (12 << 7) | 1])
  })

  test('a system reset forgets the values too', () => {
    const after = cc([101, 0], [100, 0], [96, 0])
    expect(found([...cc([101, 0], [100, 0], [6, 12]), { type: 'reset' }, ...after]).at(-1)).toEqual([
      true,
      0,
      (2 << 7) | 1,
    ])
  })

  test('a parameter written as bytes is found again, and nothing stays selected', () => {
    const message = { type: 'parameter', registered: true, channel: 1, parameter: 0, value: 1234 } as const
    const controllers = decodeBytes(...encode(message)) as MidiMessage[]
    expect(found([...controllers, ...cc([6, 1])]).at(-1)).toEqual([true, 0, 1234])
  })

  test('a whole parameter passes once and is remembered', () => {
    const message = { type: 'parameter', registered: true, channel: 1, parameter: 0, value: 1280 } as const
    expect(run([message, ...cc([101, 0], [100, 0], [96, 0])])).toEqual([
      message,
      ...cc([101, 0], [100, 0], [96, 0]),
      { ...message, value: 1281 },
    ])
  })
})
