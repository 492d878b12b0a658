import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { nextRandom } from '../../../src/domain/random.ts'
import { decodeMessage } from '../../../src/midi/decode-message.ts'
import { decode } from '../../../src/midi/decode.ts'
import { encode } from '../../../src/midi/encode.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { parameters } from '../../../src/midi/parameters.ts'
import { END, header, track } from '../../support/midi-files.ts'
import { startingSeed } from '../../support/starting-seed.ts'

const COUNT = 1_000_000

test('1,000,000 random bytes in random pieces never throw, and every message out is a valid one', () => {
  let seed = startingSeed('1,000,000 random bytes')
  const random = (below: number): number => {
    const next = nextRandom(seed)
    seed = next.seed
    return Math.floor(next.value * below)
  }
  let state = decode.start()
  let settings = parameters.start()
  let messages = 0
  for (let given = 0; given < COUNT;) {
    // Half of the pieces lean to data bytes, so that whole messages come up too.
    const top = random(2) === 0 ? 256 : 144
    const piece = Array.from({ length: Math.min(1 + random(64), COUNT - given) }, () => random(top))
    given += piece.length
    const alone = decodeMessage(piece)
    if (alone.type !== 'malformed') encode(alone)
    const step = decode.step(state, piece, given)
    state = step.state
    for (const out of step.out) {
      if (out.type === 'malformed') continue
      // The encoder refuses every field out of range.
      encode(out)
      const passed = parameters.step(settings, out, given)
      settings = passed.state
      for (const message of passed.out as MidiMessage[]) encode(message)
      messages++
    }
  }
  expect(messages).toBeGreaterThan(COUNT / 20)
})

test('files of random bytes behind a good header never throw', () => {
  let seed = startingSeed('files of random bytes')
  for (let n = 0; n < 2000; n++) {
    const body = Array.from({ length: n % 500 }, () => {
      const next = nextRandom(seed)
      seed = next.seed
      return Math.floor(next.value * 256)
    })
    const bytes = Uint8Array.from([...header(), ...track([...body, ...END])])
    const result = readMidiFile(bytes)
    expect(result.ok).toBe(true)
    if (result.ok)
      for (const { message } of result.file.tracks.flatMap(({ events }) => events)) encode(message)
    expect(readMidiFile(Uint8Array.from(body)).ok).toBe(false)
  }
})
