import { expect, it } from 'vitest'
import { wavHeader } from '../../../src/offline/wav.ts'

// RIFF/WAVE layout from Multimedia Programming Interface and Data Specifications 1.0 (1991), from memory.
it('is the 44 bytes of a mono 16-bit PCM file', () => {
  const hex = Array.from(wavHeader(3, 48000), (byte) => byte.toString(16).padStart(2, '0')).join(' ')
  expect(hex).toBe(
    '52 49 46 46 2a 00 00 00 57 41 56 45 ' + // RIFF, 36 + 6, WAVE
      '66 6d 74 20 10 00 00 00 01 00 01 00 ' + // fmt , 16, PCM, 1 channel
      '80 bb 00 00 00 77 01 00 02 00 10 00 ' + // 48000, 96000 bytes a second, 2 bytes a frame, 16 bits
      '64 61 74 61 06 00 00 00', // data, 6
  )
})

it('counts to the last frame that fits in 32 bits and refuses the next', () => {
  const most = (0xffffffff - 1 - 36) / 2
  expect(new DataView(wavHeader(most, 48000).buffer).getUint32(4, true)).toBe(0xfffffffe)
  expect(() => wavHeader(most + 1, 48000)).toThrow(
    'a WAV file holds 4 GiB at most; 2147483630 samples (12.4 h) are more: render the take in pieces',
  )
})

it('refuses what is no count and no rate', () => {
  expect(() => wavHeader(1.5, 48000)).toThrow('a WAV file has a whole number of samples, got 1.5')
  expect(() => wavHeader(1, 0)).toThrow(/must be a whole number of Hz that fits a WAV header, got 0/)
})
