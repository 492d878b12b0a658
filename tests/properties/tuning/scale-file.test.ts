import fc from 'fast-check'
import { expect, test } from 'vitest'
import { SCALE_PITCH_TEXT } from '../../../src/domain/scale-pitch.ts'
import { tuningSchema } from '../../../src/show/tuning-schema.ts'
import type { Kbm } from '../../../src/tuning/kbm.ts'
import { parseKbm, writeKbm } from '../../../src/tuning/kbm.ts'
import { parseScale, writeScale } from '../../../src/tuning/scale-file.ts'
import type { ScaleFileRead } from '../../../src/tuning/scale-file-fault.ts'
import type { Scl } from '../../../src/tuning/scl.ts'
import { parseScl, writeScl } from '../../../src/tuning/scl.ts'
import { ANY_SCALE, anyRatio, anyScale } from '../../support/arbitrary-scale.ts'
import { checkProperty } from '../../support/property.ts'

/** A name as a line can have it. */
function inOneLine(name: string): string {
  const line = name.replace(/[\r\n\0]+/g, ' ').trim()
  if (line.length <= 200) return line
  const cut = line.slice(0, 199)
  return `${(/[\uD800-\uDBFF]$/.test(cut) ? cut.slice(0, -1) : cut).trimEnd()}…`
}

test('what is written is read again as the same scale and the same map, and is what a show takes', () => {
  const ends = fc.constantFrom('\n', '\r\n', '\r')
  checkProperty(
    'write and read',
    fc.property(anyScale(ANY_SCALE), ends, fc.constantFrom('', '\uFEFF'), (tuning, end, mark) => {
      const written = writeScale(tuning)
      const as = (text = ''): string => mark + text.replaceAll('\n', end)
      const kbm = { name: 'a.kbm', text: as(written?.kbm) }
      const read = parseScale({ name: 'a.scl', text: as(written?.scl) }, kbm)
      if (!read.ok) throw new Error(read.faults.join('\n'))
      const { id, kind, map, ...scale } = tuning
      // A map that says only what is so without one is not kept.
      const says =
        map && (map.degrees.length > 0 || map.first > 0 || map.last < 127 || map.middle !== scale.refNote)
      expect(read.scale).toEqual({ ...scale, name: inOneLine(scale.name), ...(says ? { map } : {}) })
      expect(tuningSchema.safeParse({ id, kind, ...read.scale }).error).toBeUndefined()
    }),
  )
})

/** Lines that somebody may write: numbers, nearly numbers, words, nothing. */
const anyLine = fc.oneof(
  fc.stringMatching(/^[-0-9./ x!,\\e]{0,8}$/),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
  fc.integer({ min: -2, max: 130 }).map(String),
  anyRatio(Number.MAX_SAFE_INTEGER),
)
const anyText = fc.array(anyLine, { maxLength: 16 }).map((lines) => lines.join('\n'))
/** A scale of that size on the way to being one, so that the lines with pitches are reached as well. */
const anyScaleText = fc.tuple(fc.nat(6), anyText).map(([size, text]) => `x\n${size}\n${text}`)
const anyMapText = fc
  .tuple(fc.nat(6), anyText)
  .map(([size, text]) => `${size}\n0\n127\n60\n60\n256.0\n5\n${text}`)

/** Faults that do not say what they should, or lie on a line that is not there. */
function badFaults(parsed: ScaleFileRead<Scl | Kbm>, text: string): unknown[] {
  if (parsed.ok) return []
  if (parsed.faults.length === 0) return ['no faults']
  const lines = Math.max(1, text.split('\n').length)
  return parsed.faults.filter(
    ({ line, message }) => !(line >= 1 && line <= lines) || !/^found .+; expected /s.test(message),
  )
}

test('whatever text comes as a scale, it is read, or faults say where and what', () => {
  let reads = 0
  checkProperty(
    'any text as a scale',
    fc.property(fc.oneof(anyText, anyScaleText), (text) => {
      const parsed = parseScl(text)
      expect(badFaults(parsed, text)).toEqual([])
      if (!parsed.ok) return
      reads++
      const { name, pitches } = parsed.read
      const isPitch = (pitch: string | number): boolean =>
        typeof pitch === 'number' ? Math.abs(pitch) <= 120_000 : SCALE_PITCH_TEXT.test(pitch)
      expect(pitches.every(isPitch)).toBe(true)
      expect(parseScl(writeScl(parsed.read, 'a'))).toMatchObject({ ok: true, read: { name, pitches } })
    }),
    3000,
  )
  expect(reads).toBeGreaterThan(100)
})

test('whatever text comes as a mapping, it is read, or faults say where and what', () => {
  let reads = 0
  checkProperty(
    'any text as a mapping',
    fc.property(fc.oneof(anyText, anyMapText), (text) => {
      const parsed = parseKbm(text)
      expect(badFaults(parsed, text)).toEqual([])
      if (!parsed.ok) return
      reads++
      expect(parsed.read.refHz).toBeGreaterThan(0)
      expect(parseKbm(writeKbm(parsed.read, 'a'))).toEqual(parsed)
    }),
    3000,
  )
  expect(reads).toBeGreaterThan(30)
})
