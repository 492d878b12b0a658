import { expect, test } from 'vitest'
import { LoopGuard } from '../../../app/engine/loop-guard.ts'

const note = (key: number): Uint8Array => Uint8Array.of(0x90, key, 100)
const knob = (value: number): Uint8Array => Uint8Array.of(0xb0, 1, value)

test('a loop is suspected after three returns, probed, and cut when the probe comes back, all within 50 ms', () => {
  const guard = new LoopGuard(77)
  let at = 0
  let verdict = guard.heard('Keybed', note(60), at)
  while (verdict.kind === 'pass') {
    guard.sent(note(60), at)
    at += 2_500
    verdict = guard.heard('Keybed', note(60), at)
  }
  expect(verdict.kind).toBe('probe')
  if (verdict.kind !== 'probe') return
  expect([...verdict.bytes]).toEqual([0xf0, 0x7d, 0x4c, 0x61, 77, 0, 0xf7])
  expect(guard.heard('Keybed', verdict.bytes, at + 2_500)).toEqual({ kind: 'cut' })
  expect(at + 2_500).toBeLessThan(50_000)
  expect(guard.isCut('Keybed')).toBe(true)
  expect(guard.isCut('Pads')).toBe(false)
})

test('a trembling knob that goes on to an output is probed at most once a second and never cut', () => {
  const guard = new LoopGuard(1)
  let probes = 0
  for (let at = 0; at < 5_000_000; at += 20_000) {
    const message = knob(60 + ((at / 20_000) % 2))
    const verdict = guard.heard('Keybed', message, at)
    guard.sent(message, at)
    if (verdict.kind === 'probe') probes++
    expect(verdict.kind).not.toBe('cut')
  }
  expect(probes).toBeLessThanOrEqual(6)
})

test('where no probe gets through, sixty returns within 50 ms are proof enough', () => {
  const guard = new LoopGuard(1)
  let cut = -1
  for (let turn = 0; turn < 200 && cut < 0; turn++) {
    guard.sent(note(60), turn * 500)
    if (guard.heard('Keybed', note(60), turn * 500 + 400).kind === 'cut') cut = turn
  }
  expect(cut).toBeGreaterThan(10)
  expect(cut * 500).toBeLessThan(50_000)
})

test('a clock that goes on to an output is no loop at any tempo played, and is one when it runs away', () => {
  const guard = new LoopGuard(1)
  const clock = Uint8Array.of(0xf8)
  // 300 beats a minute, 24 clocks a beat (MIDI 1.0 Detailed Specification).
  for (let at = 0; at < 2_000_000; at += 8_333) {
    expect(guard.heard('Pads', clock, at).kind).toBe('pass')
    guard.sent(clock, at)
  }
  let verdict = 'pass'
  for (let at = 3_000_000; at < 3_050_000 && verdict === 'pass'; at += 1_000)
    verdict = guard.heard('Pads', clock, at).kind
  expect(verdict).toBe('probe')
})

test('an input that is forgiven is listened to again', () => {
  const guard = new LoopGuard(5)
  guard.heard('Keybed', Uint8Array.of(0xf0, 0x7d, 0x4c, 0x61, 5, 0, 0xf7), 0)
  expect(guard.isCut('Keybed')).toBe(true)
  guard.forgive('Keybed')
  expect(guard.isCut('Keybed')).toBe(false)
  expect(guard.heard('Keybed', note(60), 10).kind).toBe('pass')
})

test('another of us on the same wires is not taken for ourselves', () => {
  const guard = new LoopGuard(5)
  expect(guard.heard('Keybed', Uint8Array.of(0xf0, 0x7d, 0x4c, 0x61, 6, 0, 0xf7), 0).kind).toBe('pass')
})

test('the fastest clock that a song may have, coming back in whole, is no loop', () => {
  const guard = new LoopGuard(1)
  // 1000 beats a minute, the most a show may say, with Stop and Start of a song that begins every half second.
  for (let at = 0; at < 2_000_000; at += 2_500) {
    for (const byte of at % 500_000 === 0 ? [0xfc, 0xfa, 0xf8] : [0xf8]) {
      guard.sent(Uint8Array.of(byte), at)
      expect(guard.heard('Pads', Uint8Array.of(byte), at + 1_000).kind).toBe('pass')
    }
  }
})
