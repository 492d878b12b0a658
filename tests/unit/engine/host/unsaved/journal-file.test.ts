import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Work } from '../../../../../app/engine/host/unsaved/journal-file.ts'
import {
  changeBytes,
  journalBytes,
  readJournal,
} from '../../../../../app/engine/host/unsaved/journal-file.ts'
import { readRecords, recordBytes } from '../../../../../app/engine/host/unsaved/records.ts'
import { spliced, spliceOf } from '../../../../../app/engine/host/unsaved/splice.ts'
import { checkProperty } from '../../../../support/property.ts'

const AT = '2026-03-01T20:15:00.000Z'
const base = { file: '/shows/tide.json', stamps: ['abc'] }
const TEXTS = ['first', 'first and more', 'fist and möre 🌱', '', 'quite another']

function works(texts: readonly string[] = TEXTS): Work[] {
  return texts.map((text, revision) => ({ base, text, revision }))
}

/** Each piece as it is written, one after the other. */
function pieces(all: readonly Work[]): Buffer[] {
  return all.map((work, place) => {
    const before = all[place - 1]
    return before ? changeBytes(before, work, AT) : journalBytes(work, AT)
  })
}

test('the sum is CRC-32 as ISO-HDLC has it', () => {
  // The check value of "123456789" in the Catalogue of parametrised CRC algorithms.
  const bytes = recordBytes(123456789)
  expect(bytes.subarray(8).toString()).toBe('123456789')
  expect(bytes.readUInt32LE(4)).toBe(0xcbf43926)
})

test('a journal cut off at any byte gives back the last text that was whole', () => {
  const all = works()
  const parts = pieces(all)
  const bytes = Buffer.concat(parts)
  const ends = parts.map((_, place) => Buffer.concat(parts.slice(0, place + 1)).length)
  for (let length = 0; length <= bytes.length; length++) {
    const read = readJournal(bytes.subarray(0, length))
    const whole = ends.filter((end) => end <= length).length
    const last = all[whole - 1]
    expect(read).toEqual(last ? { state: 'read', work: last, at: AT } : { state: 'broken' })
  }
})

test('zero bytes in the place of an end that had no time to be written are no records', () => {
  const all = works()
  const bytes = Buffer.concat([...pieces(all), Buffer.alloc(4096)])
  expect(readJournal(bytes)).toMatchObject({ work: all.at(-1) })
  expect(readRecords(Buffer.alloc(4096))).toEqual([])
})

test('a bit that fell over costs what comes after it, and is never taken for work', () => {
  const all = works()
  const bytes = Buffer.concat(pieces(all))
  for (let at = 0; at < bytes.length; at++) {
    for (const bit of [0x01, 0x80]) {
      const spoilt = Buffer.from(bytes)
      spoilt[at] = (spoilt[at] ?? 0) ^ bit
      const read = readJournal(spoilt)
      // Only texts that were noted, and never the last: some record was spoilt.
      expect(['broken', ...TEXTS.slice(0, -1)]).toContain(read.state === 'read' ? read.work.text : read.state)
    }
  }
})

test('a newer journal is known as such; anything else is none', () => {
  expect(readJournal(recordBytes({ kind: 'lanthorn-journal', version: 2, more: true }))).toEqual({
    state: 'newer',
  })
  for (const bytes of [
    Buffer.alloc(0),
    Buffer.from('{"a": 1}'),
    recordBytes({ kind: 'other' }),
    recordBytes(7),
  ])
    expect(readJournal(bytes)).toEqual({ state: 'broken' })
})

test('a change that does not fit the text before it is not done', () => {
  const [first] = works()
  if (!first) throw new Error('there is a first')
  const odd = recordBytes({ kind: 'change', revision: 9, at: AT, from: 3, to: 99, text: 'x' })
  expect(readJournal(Buffer.concat([journalBytes(first, AT), odd]))).toMatchObject({ work: first })
})

test('of any two texts the one is made into the other, whatever units they are cut at', () => {
  const text = fc.string({ unit: 'binary', maxLength: 40 })
  checkProperty(
    'splices',
    fc.property(text, text, text, (head, one, other) => {
      for (const [before, after] of [
        [one, other],
        [head + one, head + other],
        [one + head, other + head],
      ] as const) {
        const splice = JSON.parse(JSON.stringify(spliceOf(before, after))) as ReturnType<typeof spliceOf>
        expect(spliced(before, splice)).toBe(after)
      }
    }),
  )
})
