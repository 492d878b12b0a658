import { expect, test } from 'vitest'
import { decodeMessage } from '../../../src/midi/decode-message.ts'

test.each<[string, number[], RegExp]>([
  ['nothing', [], /no bytes/],
  ['data first', [0x3c, 0x40], /begins with a status byte \(80 to FF\), not with 3C/],
  ['too short', [0x90, 60], /too short: status 90 takes 2 data byte\(s\), here are 1/],
  ['too long', [0xc0, 1, 2], /too long: status C0 takes 1 data byte\(s\), here are 2/],
  ['first data byte too high', [0x90, 0xbc, 64], /data byte 1 is BC, over 7F/],
  ['second data byte too high', [0xe0, 0, 0x80], /data byte 2 is 80, over 7F/],
  ['undefined status', [0xf4], /status F4 begins no MIDI 1.0 message/],
  ['undefined real-time status', [0xfd], /status FD begins no MIDI 1.0 message/],
  ['end of system exclusive alone', [0xf7], /status F7 begins no MIDI 1.0 message/],
  ['sysex without end', [0xf0, 1, 2], /without its end \(F7\)/],
  ['lone F0', [0xf0], /without its end \(F7\)/],
  ['status inside sysex', [0xf0, 1, 0x90, 0xf7], /status 90 inside a system exclusive, at byte 3/],
  ['not a byte', [0x90, 60, 300], /byte 3 is 300, which is not a byte/],
  ['a fraction', [0x90, 60.5, 1], /byte 2 is 60.5, which is not a byte/],
])('%s', (_name, bytes, words) => {
  expect(decodeMessage(bytes)).toEqual({
    type: 'malformed',
    why: expect.stringMatching(words),
    count: bytes.length,
  })
})

test('takes a Uint8Array too', () => {
  expect(decodeMessage(Uint8Array.of(0x99, 38, 0))).toEqual({
    type: 'note-off',
    channel: 10,
    key: 38,
    velocity: 64,
  })
})
