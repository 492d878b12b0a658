import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { EVERY_CAUTION } from '../../../src/domain/cautions.ts'
import { cautionFindings } from '../../../src/offline/check/caution.ts'
import { gigCheck } from '../../../src/offline/gig-check/gig-check.ts'
import { songSheet } from '../../../src/offline/song-sheet.ts'
import { venuePage } from '../../../src/offline/venue/venue-page.ts'
import { demoShow } from '../../support/demo.ts'
import { HostRun } from '../../support/host-run.ts'
import { pageWords } from '../../support/page-words.ts'

/** Words that a subject cannot be told without; not taken from where they are written. */
const SUBJECTS: Readonly<Record<string, readonly RegExp[]>> = {
  photosensitivity: [/flashing light/i, /photosensitive seizures/i],
  wiring: [/wiring/i, /licensed/i],
  fusing: [/\bfuse\b/i, /supply line/i],
  heat: [/\bhot\b/i, /\bfires?\b/i],
  eyes: [/\beyes\b/i, /close range/i],
  hearing: [/\bloud\b/i, /hearing/i],
  'local codes and licensed practice': [/local codes/i, /licensed/i],
}

function lost(words: string): string[] {
  return Object.entries(SUBJECTS).flatMap(([subject, all]) =>
    all.filter((one) => !one.test(words)).map((one) => `${subject}: ${one.source}`),
  )
}

function readmeBox(): string {
  const readme = readFileSync(join(import.meta.dirname, '../../../README.md'), 'utf8')
  const box = readme.split('\n').filter((line) => line.startsWith('> '))
  expect(readme.indexOf(box[0] ?? '?')).toBeLessThan(readme.indexOf('## Use'))
  return box.map((line) => line.slice(2)).join(' ')
}

const PLACES: readonly (readonly [string, () => string])[] = [
  ['the box on top of the README', readmeBox],
  ['the printed sheet', () => pageWords(songSheet(demoShow()))],
  [
    'the page for the venue',
    () => pageWords(venuePage(demoShow(), gigCheck(demoShow(), []), { date: '2031-02-28' })),
  ],
  ['the end of the checks', () => cautionFindings()[0]?.message ?? ''],
  [
    'what a screen gets to show before anything is lit',
    () => new HostRun().screen().last('welcome').cautions.join(' '),
  ],
]

test.each(PLACES)('every subject is in %s', (_, words) => {
  expect(lost(words())).toEqual([])
})

test('a place that lost a subject is noticed', () => {
  for (const [subject, [first]] of Object.entries(SUBJECTS)) {
    const words = readmeBox().replaceAll(new RegExp(first!.source, 'gi'), '')
    expect(lost(words).join()).toContain(subject)
  }
})

test('the README has the sentences that are written in one place', () => {
  for (const { short } of EVERY_CAUTION) expect(readmeBox()).toContain(short)
})
