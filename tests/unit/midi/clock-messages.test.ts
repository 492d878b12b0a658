import { expect, test } from 'vitest'
import { clockMessages } from '../../../src/midi/clock-messages.ts'

// MIDI 1.0 Detailed Specification, table of status bytes: F2 song position, F8 timing clock, FA start, FB continue, FC stop.
test('real-time bytes are what the standard says, in their order', () => {
  expect(clockMessages([0xfa, 0xf8, 0xf8, 0xfc, 0xfb]).map(({ kind }) => kind)).toEqual([
    'start',
    'clock',
    'clock',
    'stop',
    'continue',
  ])
})

test('a song position counts sixteenths of six clocks, its low seven bits first', () => {
  expect(clockMessages([0xf2, 0x08, 0x00])).toEqual([{ kind: 'position', clocks: 48 }])
  expect(clockMessages([0xf2, 0x01, 0x02])).toEqual([{ kind: 'position', clocks: 257 * 6 }])
  // Fourteen bits: 16,383 is the last.
  expect(clockMessages([0xf2, 0x7f, 0x7f])).toEqual([{ kind: 'position', clocks: 98_298 }])
})

test('a clock within a song position does not break it, whatever else comes does', () => {
  expect(clockMessages([0xf2, 0xf8, 0x08, 0xfe, 0x00])).toEqual([
    { kind: 'clock' },
    { kind: 'position', clocks: 48 },
  ])
  expect(clockMessages([0xf2, 0x08, 0x90, 60, 100, 0x00])).toEqual([])
  expect(clockMessages([0xf2, 0x08])).toEqual([])
})

test('notes, undefined real-time bytes, active sensing, reset, time code and system exclusive are no clock', () => {
  const others = [0x90, 60, 100, 0xf9, 0xfd, 0xfe, 0xff, 0xf1, 0x12, 0xf3, 5, 0xf6, 0xf0, 0x7d, 8, 0xf7]
  expect(clockMessages(others)).toEqual([])
  expect(clockMessages([0xf0, 0x7d, 0xf8, 8, 0xf7])).toEqual([{ kind: 'clock' }])
})
