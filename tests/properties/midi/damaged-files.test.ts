import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { encode } from '../../../src/midi/encode.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { writeMidiFile } from '../../../src/midi/file-write.ts'
import { anyMessage } from '../../support/message-arbitrary.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'
import { checkProperty } from '../../support/property.ts'

const damage = fc.array(
  fc.record({
    how: fc.constantFrom('flip', 'set', 'cut', 'insert', 'remove'),
    at: fc.nat(),
    value: fc.integer({ min: 0, max: 255 }),
  }),
  { minLength: 1, maxLength: 6 },
)

type Damage = readonly { readonly how: string; readonly at: number; readonly value: number }[]

function damaged(bytes: Uint8Array, faults: Damage): Uint8Array {
  const out = [...bytes]
  for (const { how, at, value } of faults) {
    const place = at % Math.max(1, out.length)
    if (how === 'flip') out[place] = (out[place] ?? 0) ^ (1 << (value % 8))
    else if (how === 'set') out[place] = value
    else if (how === 'insert') out.splice(place, 0, value)
    else if (how === 'remove') out.splice(place, 1)
    // Most cuts take little, so that the other damage is still seen.
    else out.length = Math.max(0, out.length - (value % 64))
  }
  return Uint8Array.from(out)
}

/** Whatever comes out is in order, whole and encodable; whatever is refused says why. Empty if so. */
function unsound(bytes: Uint8Array): string[] {
  const result = readMidiFile(bytes)
  const faults: string[] = []
  if (!result.ok) {
    if (Object.values(result.error).some((words) => words.length === 0)) faults.push('an error without words')
    return faults
  }
  const { tracks, endsAt, warnings } = result.file
  if (warnings.length > 201) faults.push(`${warnings.length} warnings`)
  let count = 0
  for (const { events } of tracks) {
    let before = 0
    for (const { at, message } of events) {
      if (!Number.isSafeInteger(at) || at < before || at > endsAt) faults.push(`time ${at} after ${before}`)
      before = at
      // The encoder refuses every field out of range.
      encode(message)
      count++
    }
  }
  // Each event takes at least two bytes, or stands in a packet where it takes one.
  if (count > bytes.length) faults.push(`${count} events of ${bytes.length} bytes`)
  return faults
}

const content = fc.record({
  division: fc.integer({ min: 1, max: 32767 }),
  tempo: fc.double({ min: 4, max: 1000, noNaN: true }),
  tracks: fc.array(
    fc.record({
      name: fc.string({ unit: 'grapheme', maxLength: 8 }),
      events: fc.array(fc.record({ at: fc.nat({ max: 10_000_000 }), message: anyMessage }), {
        maxLength: 20,
      }),
    }),
    { minLength: 1, maxLength: 3 },
  ),
})

test('files of our own, damaged', () => {
  checkProperty(
    'damaged files of our own',
    fc.property(content, damage, (written, faults) => {
      expect(unsound(damaged(writeMidiFile(written), faults))).toEqual([])
    }),
    2000,
  )
})

test('files of our own, whole: every message back, in order, within half a tick', () => {
  checkProperty(
    'file: write, read',
    fc.property(content, (written) => {
      const result = readMidiFile(writeMidiFile(written))
      if (!result.ok) throw new Error(result.error.what)
      expect(result.file.warnings).toEqual([])
      const halfTick = Math.round(60_000_000 / written.tempo) / written.division / 2 + 0.5
      written.tracks.forEach(({ events }, i) => {
        const sorted: { at: number; message: MidiMessage }[] = events.toSorted((a, b) => a.at - b.at)
        const back = result.file.tracks[i]?.events ?? []
        expect(back.map(({ message }) => message)).toEqual(sorted.map(({ message }) => message))
        back.forEach(({ at }, k) => {
          expect(Math.abs(at - (sorted[k]?.at ?? NaN))).toBeLessThanOrEqual(halfTick + 1e-6)
        })
      })
    }),
  )
})

describe('real performances, damaged', () => {
  skipWithoutPerformances()

  test('never throw, and stay sound', () => {
    const files = performancePaths().map(performanceBytes)
    checkProperty(
      'damaged real files',
      fc.property(fc.nat({ max: files.length - 1 }), damage, (which, faults) => {
        expect(unsound(damaged(files[which] as Uint8Array, faults))).toEqual([])
      }),
      2000,
    )
  })
})
