import { expect, test } from 'vitest'
import { parseKbm, writeKbm } from '../../../src/tuning/kbm.ts'

/** Size, first, last, middle, reference key, its Hz, formal octave. */
const HEADER = ['3', '0', '127', '60', '60', '256.0', '5']
const text = (header: readonly string[], ...entries: string[]): string => [...header, ...entries].join('\n')
const other = (place: number, line: string): string[] => HEADER.map((one, at) => (at === place ? line : one))

function read(kbm: string) {
  const parsed = parseKbm(kbm)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults))
  return parsed.read
}

function faults(kbm: string): string[] {
  const parsed = parseKbm(kbm)
  if (parsed.ok) throw new Error(`read as ${JSON.stringify(parsed.read)}`)
  return parsed.faults.map(({ line, message }) => `${line}: ${message}`)
}

const FIVE = { first: 0, last: 127, middle: 60, formalOctave: 5, degrees: [0, 2, 3] }

test.each(['\n', '\r\n', '\r'])(
  'lines that end with %j, a byte-order mark, comments, remarks behind numbers',
  (end) => {
    const lines = [
      '\uFEFF! glass.kbm',
      '!',
      '! Size:',
      ' 3 keys',
      '0',
      '127 ! all',
      '60',
      '! reference',
      '60',
      '256. Hz',
      '5',
    ]
    expect(read([...lines, '! entries', '0', '2\tmoss', ' 3', '', ''].join(end))).toEqual({
      map: FIVE,
      refNote: 60,
      refHz: 256,
    })
  },
)

test('size 0 is a linear mapping', () => {
  expect(read(text(other(0, '0'))).map).toEqual({ ...FIVE, degrees: [] })
})

test('x, in either case, is a key that is not mapped, and so are entries that are left out at the end', () => {
  expect(read(text(other(0, '6'), '0', 'x', 'X none', '-3')).map.degrees).toEqual([
    0,
    null,
    null,
    -3,
    null,
    null,
  ])
})

test('a frequency may be whole', () => {
  expect(read(text(other(5, '440'), '0', '2', '3')).refHz).toBe(440)
})

test.each([
  [
    0,
    '129',
    /^1: found "129"; expected the number of keys after which the pattern repeats, a whole number from 0 to 128/,
  ],
  [0, '-1', /^1: found "-1"/],
  [0, 'twelve', /^1: found "twelve"/],
  [1, '128', /^2: found "128"; expected the first key that is mapped, a whole number from 0 to 127/],
  [2, '12.5', /^3: found "12.5"; expected the last key that is mapped/],
  [3, '', /^4: found an empty line; expected the key on which the pattern begins/],
  [4, '1e1', /^5: found "1e1"; expected the key whose frequency is given/],
  [5, '0.0', /^6: found "0.0"; expected its frequency in Hz, above 0, up to 100000/],
  [5, '-440.0', /^6: found "-440.0"/],
  [5, '100001', /^6: found "100001"/],
  [5, '261,6', /^6: found "261,6"; .*write a point, not a comma/],
  [
    6,
    '-1',
    /^7: found "-1"; expected the degree that is one repetition of the pattern up, a whole number from 0 to 10000/,
  ],
])('line %i cannot be "%s"', (place, line, expected) => {
  expect(faults(text(other(place, line), '0', '2', '3'))).toEqual([expect.stringMatching(expected)])
})

test('a file that ends too soon tells what is missing next, all else that is wrong is told at once', () => {
  expect(faults('3\n0\n127')).toEqual([
    '3: found the end of the file; expected the key on which the pattern begins, a whole number from 0 to 127',
  ])
  expect(faults('')).toEqual([
    expect.stringMatching(/^1: found the end of the file; expected the number of keys/),
  ])
  expect(faults(text(HEADER, '0', 'two', '10001'))).toEqual([
    '9: found "two"; expected a degree, or x for a key that is not mapped',
    expect.stringMatching(/^10: found "10001"; .* degrees go from -10000 to 10000/),
  ])
  expect(faults(text(HEADER, '0', 'xylem', 'x!'))).toEqual([expect.stringMatching(/^9: found "xylem"/)])
  expect(faults(text(HEADER, '0', '', '3'))).toEqual([
    expect.stringMatching(/^9: found an empty line; expected a degree, or x/),
  ])
  expect(faults(text(['9', '70', '69', ...HEADER.slice(3)]))).toEqual([
    expect.stringMatching(/^3: found "69"; expected a key of at least 70/),
  ])
})

test('more entries than the size says are not passed over; other words after the last are', () => {
  expect(faults(text(HEADER, '0', '2', '3', '4'))).toEqual([
    '11: found one more entry, 4; expected 3 entries, as the first number says; correct that number, or take the entry out',
  ])
  expect(faults(text(other(0, '0'), '0'))).toEqual([
    expect.stringMatching(/expected no entries, the pattern has no keys/),
  ])
  expect(read(text(HEADER, '0', '2', '3', 'from the glasshouse')).map.degrees).toEqual([0, 2, 3])
})

test('a reference key that is not mapped is refused, with those that could be it', () => {
  expect(faults(text(['4', '0', '127', '60', '61', '256.0', '5'], '0', 'x', '3'))).toEqual([
    '5: found key 61, which the map leaves out; expected a key that is mapped; the nearest: 60, 62',
  ])
  // 61 - 4 x 16 is negative: the pattern goes down as well.
  expect(faults(text(['4', '0', '127', '125', '61', '256.0', '5'], 'x', '1', '2', '3'))).toHaveLength(1)
  expect(faults(text(other(1, '62'), '0', '2', '3'))).toEqual([
    expect.stringMatching(/^5: found key 60, which the map leaves out; .* the nearest: 62, 63$/),
  ])
  expect(faults(text(other(2, '58'), '0', '2', '3'))).toEqual([
    expect.stringMatching(/^5: found key 60, .* the nearest: 58, 57$/),
  ])
  expect(faults(text(HEADER))).toEqual([expect.stringMatching(/the map has no such key$/)])
})

test('what is written has a comment for each thing and is read again', () => {
  const kbm = { map: { ...FIVE, degrees: [0, null, -3] }, refNote: 60, refHz: 261.6255653005986 }
  const written = writeKbm(kbm, 'glass')
  expect(written.startsWith('! glass.kbm\n!\n')).toBe(true)
  expect(written.split('\n').filter((line) => !line.startsWith('!'))).toEqual([
    '3',
    '0',
    '127',
    '60',
    '60',
    '261.6255653005986',
    '5',
    '0',
    'x',
    '-3',
    '',
  ])
  expect(read(written)).toEqual(kbm)
})
