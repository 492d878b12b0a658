import { MOST_DEGREE, MOST_MAP_KEYS, MOST_REFERENCE_HZ } from '../domain/scale-limits.ts'
import type { KeyMap } from '../domain/tuning-spec.ts'
import type { Hz, Key } from '../domain/units.ts'
import type { ScaleFileFault, ScaleFileRead } from './scale-file-fault.ts'
import { foundText, scaleFault } from './scale-file-fault.ts'
import type { FileLine } from './scale-file-lines.ts'
import { fileLines, withoutEmptyEnd } from './scale-file-lines.ts'
import { pointedAt, pointedText, wholeAt } from './scale-file-numbers.ts'

/** What a keyboard mapping says. */
export interface Kbm {
  readonly map: KeyMap
  readonly refNote: Key
  readonly refHz: Hz
}

const HIGHEST_KEY = 127

/** What the first lines have to be, in their order. */
const HEADER = [
  { what: 'the number of keys after which the pattern repeats', most: MOST_MAP_KEYS },
  { what: 'the first key that is mapped', most: HIGHEST_KEY },
  { what: 'the last key that is mapped', most: HIGHEST_KEY },
  { what: 'the key on which the pattern begins', most: HIGHEST_KEY },
  { what: 'the key whose frequency is given', most: HIGHEST_KEY },
  { what: 'its frequency in Hz, above 0', most: MOST_REFERENCE_HZ },
  { what: 'the degree that is one repetition of the pattern up', most: MOST_DEGREE },
] as const
const FREQUENCY = 5
const ENTRY = 'a degree, or x for a key that is not mapped'

/**
 * Reads a keyboard mapping (`.kbm`) by the published description of the format: seven numbers, then a degree for each key of the pattern, or x. A pattern of
 * no keys is a linear mapping; entries that are left out at the end are keys that are not mapped. What follows a number on its line is not looked at.
 */
export function parseKbm(text: string): ScaleFileRead<Kbm> {
  const file = fileLines(text)
  if (!('lines' in file)) return { ok: false, faults: [file] }
  const lines = withoutEmptyEnd(file.lines)
  const header = HEADER.map((_, place) => headerAt(lines[place], place, file.end))
  const missing = header.findIndex((one) => one.isMissing)
  const told = missing === -1 ? header : header.slice(0, missing + 1)
  const faults = told.flatMap(({ fault }) => fault ?? [])
  if (faults.length > 0) return { ok: false, faults }
  const [size = 0, first = 0, last = 0, middle = 0, refNote = 0, refHz = 0, formalOctave = 0] = header.map(
    ({ value }) => value,
  )
  const entries = lines.slice(HEADER.length)
  const read = entries.slice(0, size).map(entryAt)
  faults.push(...read.filter((one) => typeof one === 'object' && one !== null))
  faults.push(...tooMany(entries[size], size))
  if (first > last) faults.push(inLine(lines[2], `a key of at least ${first}, the first one that is mapped`))
  if (faults.length > 0) return { ok: false, faults }
  const given = read.filter((one) => typeof one !== 'object' || one === null)
  const degrees = Array.from({ length: size }, (_, place) => given[place] ?? null)
  const map = { first, last, middle, formalOctave, degrees }
  if (!isMapped(map, refNote)) return { ok: false, faults: [unmappedReference(map, refNote, lines[4])] }
  return { ok: true, read: { map, refNote, refHz } }
}

/** A keyboard mapping; `title` is the name that its first comment gives. What `parseKbm` makes of it is the same. */
export function writeKbm({ map, refNote, refHz }: Kbm, title: string): string {
  const { first, last, middle, formalOctave, degrees } = map
  const lines = [
    `! ${title}.kbm`,
    '!',
    '! Keys after which the pattern repeats (0: each key is one degree), first and last key:',
    degrees.length,
    first,
    last,
    '! Key on which the pattern begins:',
    middle,
    '! Key whose frequency is given, and that in Hz:',
    refNote,
    pointedText(refHz),
    '! Degree that is one repetition of the pattern up:',
    formalOctave,
    '! Degree of each key of the pattern (x: not mapped):',
    ...degrees.map((degree) => degree ?? 'x'),
  ]
  return `${lines.join('\n')}\n`
}

interface HeaderLine {
  readonly value: number
  readonly fault?: ScaleFileFault
  readonly isMissing?: boolean
}

function headerAt(line: FileLine | undefined, place: number, end: number): HeaderLine {
  const { what, most } = HEADER[place] ?? { what: '', most: 0 }
  const isHz = place === FREQUENCY
  const expected = isHz ? `${what}, up to ${most}` : `${what}, a whole number from 0 to ${most}`
  if (!line)
    return { value: 0, isMissing: true, fault: scaleFault(end, 'found the end of the file', expected) }
  const value = isHz ? (pointedAt(line.text) ?? wholeAt(line.text)) : wholeAt(line.text)
  const isGood = value !== undefined && value <= most && (isHz ? value > 0 : value >= 0)
  if (isGood) return { value }
  const hint = isHz && /^\s*\d+,\d/.test(line.text) ? 'write a point, not a comma' : undefined
  return { value: 0, fault: scaleFault(line.number, foundText(line.text), expected, hint) }
}

function entryAt({ number, text }: FileLine): number | null | ScaleFileFault {
  if (/^x(?![\p{L}\p{N}])/iu.test(text.trimStart())) return null
  const degree = wholeAt(text)
  if (degree !== undefined && Math.abs(degree) <= MOST_DEGREE) return degree
  const range = `${ENTRY}; degrees go from -${MOST_DEGREE} to ${MOST_DEGREE}`
  return scaleFault(number, foundText(text), degree === undefined ? ENTRY : range)
}

/** One entry more than the pattern has keys: somebody miscounted, and the keys would not be where they were meant to be. */
function tooMany(line: FileLine | undefined, size: number): ScaleFileFault[] {
  if (!line) return []
  const entry = entryAt(line)
  if (typeof entry === 'object' && entry !== null) return []
  const expected =
    size === 0 ? 'no entries, the pattern has no keys' : `${size} entries, as the first number says`
  return [
    scaleFault(
      line.number,
      `found one more entry, ${line.text.trim()}`,
      expected,
      'correct that number, or take the entry out',
    ),
  ]
}

function isMapped({ first, last, middle, degrees }: KeyMap, key: Key): boolean {
  if (key < first || key > last) return false
  const size = degrees.length
  return size === 0 || typeof degrees[(((key - middle) % size) + size) % size] === 'number'
}

/** Without a pitch for the reference there is none for any other key. */
function unmappedReference(map: KeyMap, refNote: Key, line: FileLine | undefined): ScaleFileFault {
  const mapped = Array.from({ length: HIGHEST_KEY + 1 }, (_, key) => key).filter((key) => isMapped(map, key))
  const near = mapped.toSorted((a, b) => Math.abs(a - refNote) - Math.abs(b - refNote)).slice(0, 2)
  const hint = near.length === 0 ? 'the map has no such key' : `the nearest: ${near.join(', ')}`
  return scaleFault(
    line?.number ?? 1,
    `found key ${refNote}, which the map leaves out`,
    'a key that is mapped',
    hint,
  )
}

function inLine(line: FileLine | undefined, expected: string): ScaleFileFault {
  return scaleFault(line?.number ?? 1, foundText(line?.text ?? ''), expected)
}
