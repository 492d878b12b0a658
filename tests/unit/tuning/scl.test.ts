import { expect, test } from 'vitest'
import { pitchCents } from '../../../src/domain/scale-pitch.ts'
import type { ScalePitch } from '../../../src/domain/tuning-spec.ts'
import { LONGEST_SCALE_FILE } from '../../../src/tuning/scale-file-lines.ts'
import { parseScl, writeScl } from '../../../src/tuning/scl.ts'

function read(text: string) {
  const scl = parseScl(text)
  if (!scl.ok) throw new Error(JSON.stringify(scl.faults))
  return scl.read
}

function faults(text: string): string[] {
  const scl = parseScl(text)
  if (scl.ok) throw new Error(`read as ${JSON.stringify(scl.read)}`)
  return scl.faults.map(({ line, message }) => `${line}: ${message}`)
}

function pitch(line: string): ScalePitch | undefined {
  return read(`one\n1\n${line}\n`).pitches[0]
}

// Lines that the published description of the format calls valid, and more of their kind.
test.each<[string, ScalePitch]>([
  ['81/64', '81/64'],
  ['408.0', 408],
  ['408.', 408],
  ['.5', 0.5],
  ['-.5', -0.5],
  ['5', '5'],
  ['2', '2'],
  ['-5.0', -5],
  ['-0.0', 0],
  ['10/20', '10/20'],
  ['100.0 cents', 100],
  [' 100.0 C#', 100],
  ['100.0cents', 100],
  [' 5/4   E\\', '5/4'],
  ['\t10/9 ! A ; 8', '10/9'],
  ['3/2!', '3/2'],
  ['3/2; 5/4', '3/2'],
  ['408.0, or so', 408],
  ['2147483647/2147483646', '2147483647/2147483646'],
  // Past what the format promises, all digits kept.
  ['617673396283947/562949953421312', '617673396283947/562949953421312'],
])('the line "%s" is a pitch', (line, expected) => {
  expect(pitch(line)).toBe(expected)
})

test('10/9 with a remark behind it is 182.404 cents', () => {
  expect(pitchCents(pitch(' 10/9 ! A ; 8') ?? NaN)).toBeCloseTo(182.404, 3)
})

test.each([
  ['-5/4', /^3: found "-5\/4"; expected cents with a point, .*; a ratio below 0 has no pitch/],
  ['5/-4', /a ratio below 0 has no pitch/],
  ['-5', /a ratio below 0 has no pitch; cents below 0 need a point/],
  ['0', /neither side of a ratio may be 0/],
  ['5/0', /neither side of a ratio may be 0/],
  ['000/4', /neither side of a ratio may be 0/],
  ['1234567890123456/5', /more than 15 digits are not kept exactly: reduce the ratio/],
  ['5/4/3', /^3: found "5\/4\/3"; expected cents with a point, such as 701.955, or a ratio, such as 3\/2$/],
  ['5/4.5', /found "5\/4.5"; expected/],
  ['1.2.3', /found "1.2.3"; expected/],
  ['701,955', /write a point, not a comma/],
  ['3 / 2', /write the ratio without blanks/],
  ['3/ 2', /write the ratio without blanks/],
  ['1e3', /found "1e3"; expected/],
  ['1.5e3', /found "1.5e3"; expected/],
  // Other ways to write an interval must not be taken for their first number.
  ['7\\12', /found/],
  ['3:2', /found/],
  ['2^7', /found/],
  ['.', /found "."; expected/],
  ['fifth', /found "fifth"; expected/],
  [' ! a remark', /a comment has its "!" at the very start of the line/],
  ['120000.1', /expected cents from -120000 to 120000/],
])('the line "%s" is refused', (line, expected) => {
  const [fault, ...more] = faults(`one\n1\n${line}\n`)
  expect(fault).toMatch(expected)
  expect(more).toEqual([])
})

test.each(['\n', '\r\n', '\r'])(
  'lines that end with %j, a byte-order mark, comments anywhere, a description',
  (end) => {
    const lines = [
      '\uFEFF! reed.scl',
      '!',
      '! For the low reeds.',
      '! And the sedge.',
      'Reeds',
      '! 5',
      ' 2 notes',
    ]
    const text = [...lines, '!', ' 3/2 fifth', '! between', ' 2/1', 'nothing of this', '-5/4'].join(end)
    expect(read(text)).toEqual({
      name: 'Reeds',
      pitches: ['3/2', '2/1'],
      about: 'For the low reeds. And the sedge.',
      left: 2,
    })
    expect(read(text + end).pitches).toEqual(['3/2', '2/1'])
  },
)

test('the description may be empty, but it is there', () => {
  expect(read('\n1\n2/1')).toMatchObject({ name: '', pitches: ['2/1'] })
  expect(read('! x\n!\n   \n1\n2/1')).toMatchObject({ name: '', pitches: ['2/1'] })
  expect(faults('12\n100.0\n200.0')).toEqual([
    '2: found "100.0"; expected the number of pitches, from 0 to 1000; the first line that is no comment is the description, and where there is none it is empty',
  ])
})

test('no pitches at all are a scale', () => {
  expect(read('Drone\n0')).toEqual({ name: 'Drone', pitches: [], about: '', left: 0 })
  expect(read('\n0\n')).toMatchObject({ name: '', pitches: [] })
})

test('a long description gives no error; of more than a show takes the end is left out', () => {
  const { name } = read(`${'ab'.repeat(99)}c\u{1F33F}${'d'.repeat(5000)}\n0\n`)
  // The leaf takes two units and would be cut through.
  expect(name).toBe(`${'ab'.repeat(99)}c…`)
  expect(name.length).toBe(200)
  expect(read(`${'a'.repeat(200)}\n0`).name).toBe('a'.repeat(200))
})

test('too few pitches are told with the line that promises more; every bad line is told', () => {
  expect(faults('x\n3\n3/2\n\n\n')).toEqual([
    '5: found 1 pitch; expected 3, as line 2 says; add what is missing, or put that line right',
  ])
  expect(faults('x\n2')).toEqual([expect.stringMatching(/^2: found no pitch; expected 2/)])
  expect(faults('x\n4\n0\n3/2\n\n2,0')).toEqual([
    expect.stringMatching(/^3: found "0"; expected cents/),
    expect.stringMatching(/^5: found an empty line; expected cents .*; take the line out/),
    expect.stringMatching(/^6: found "2,0"; expected cents/),
  ])
})

test.each([
  ['', /^1: found nothing but comments; expected a description, then the number of pitches/],
  ['! only\n! comments', /^2: found nothing but comments/],
  ['Reeds', /^1: found a description and nothing more/],
  ['Reeds\n\n', /^2: found an empty line; expected the number of pitches/],
  ['Reeds\n-1\n', /^2: found "-1"; expected the number of pitches, from 0 to 1000/],
  ['Reeds\n1001\n', /^2: found "1001"; expected the number of pitches, from 0 to 1000/],
  ['Reeds\n2.5\n', /^2: found "2.5"; expected the number of pitches/],
  ['Reeds\n99999999999999999999999\n', /expected the number of pitches/],
  ['P\0N\0G', /^1: found bytes that are no text; expected a text file; save the file as UTF-8/],
  ['a'.repeat(LONGEST_SCALE_FILE + 1), /^1: found a file of 500001 characters; expected at most 500000/],
])('a file that is none: %j', (text, expected) => {
  expect(faults(text)).toEqual([expect.stringMatching(expected)])
})

test('what is written is a scale file as others write them', () => {
  const text = writeScl({ name: '!odd\nname', pitches: ['9/8', 386.313714, -5, 1e-7, '2'] }, 'odd')
  expect(text).toBe('! odd.scl\n!\n !odd name\n 5\n!\n 9/8\n 386.313714\n -5.0\n 0.0000001\n 2\n')
  expect(read(text)).toMatchObject({ name: '!odd name', pitches: ['9/8', 386.313714, -5, 1e-7, '2'] })
})
