import { describe, expect, test } from 'vitest'
import { strategies } from '../../../src/strategies/registry.ts'

const LAMPS = ['fern', 'moss', 'reed']

function strategyOf(kind: string) {
  const found = strategies.find((strategy) => strategy.kind === kind)
  if (!found) throw new Error(`no strategy "${kind}"`)
  return found
}

describe('options that do not fit the part’s lamps', () => {
  test.each([
    [
      'unison',
      { detuneCents: [1, 2, 3, 4] },
      'detuneCents',
      '4 values for 3 lamps; give at most one per lamp',
    ],
    ['partials', { ratios: [1, 2, 3, 4] }, 'ratios', '4 ratios for 3 lamps; give at most one per lamp'],
    ['travel', { path: ['fern', 'oak'] }, 'path', 'lamp "oak" is not among the part\'s lamps'],
    ['travel', { width: 4 }, 'width', '4 lamps wide, but the part has 3'],
    ['chime', { notes: [60, 61] }, 'notes', '2 notes for 3 lamps; give exactly one per lamp'],
  ])('%s %j', (kind, options, option, message) => {
    const strategy = strategyOf(kind)
    expect(strategy.check?.(strategy.options.parse(options), LAMPS)).toEqual([{ option, message }])
  })

  test.each([
    ['unison', { detuneCents: [1, 2, 3] }],
    ['partials', { ratios: [1, 2] }],
    ['travel', { path: ['reed', 'fern', 'reed'], width: 3 }],
    ['chime', { notes: [60, 61, 60] }],
  ])('but %s %j is well', (kind, options) => {
    const strategy = strategyOf(kind)
    expect(strategy.check?.(strategy.options.parse(options), LAMPS)).toEqual([])
  })
})

describe('options that fit no part', () => {
  test.each([
    ['unison', { priority: 'loudest' }],
    ['unison', { detuneCents: [1201] }],
    ['unison', { steal: 'oldest' }],
    ['lowest-free', { steal: 'newest' }],
    ['lowest-free', { resume: 'yes' }],
    ['travel', { path: 'sideways' }],
    ['travel', { path: [] }],
    ['travel', { move: { every: 'often' } }],
    ['travel', { move: { everyMs: 0 } }],
    ['travel', { move: { every: '1/16', everyMs: 90 } }],
    ['travel', { width: 0 }],
    ['travel', { overlapMs: -1 }],
    ['chime', {}],
    ['chime', { notes: [128] }],
    ['partials', { ratios: [0] }],
    ['partials', { ratios: [] }],
    ['canon', { delay: '1/0' }],
    ['canon', { delayMs: -1 }],
  ])('%s %j', (kind, options) => {
    expect(strategyOf(kind).options.safeParse(options).success).toBe(false)
  })
})

test.each([
  ['unison', { priority: 'last', detuneCents: [], spreadCents: 0, retrigger: false }],
  ['lowest-free', { steal: 'oldest', resume: true }],
  ['travel', { path: 'forward', move: 'note', width: 1, overlapMs: 0, priority: 'last' }],
  ['rotate', { steal: 'oldest', resume: false }],
  ['nearest', { steal: 'oldest', resume: false }],
  ['partials', { priority: 'last' }],
  ['canon', { delay: '1/8', priority: 'last' }],
])('what %s does when nothing is said', (kind, options) => {
  expect(strategyOf(kind).options.parse({})).toEqual(options)
})
