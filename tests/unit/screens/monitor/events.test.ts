import { expect, test } from 'vitest'
import type { MonitorEvent } from '../../../../src/contract/from-engine.ts'
import {
  EVERY_SOURCE,
  eventsAfter,
  sifted,
  sourcesOf,
  WAYS,
} from '../../../../app/screens/monitor/event-sieve.ts'
import { eventTime, tabbed } from '../../../../app/screens/monitor/event-words.ts'
import { latencySlots, milliseconds } from '../../../../app/screens/monitor/latency-slots.ts'

const EVENTS: MonitorEvent[] = [
  { at: 1_000_000, way: 'in', source: 'keys', text: 'note-on A4 (69)', bytes: '90 45 50' },
  { at: 1_000_400, way: 'light', source: 'fern', text: 'lit at 440.00 Hz' },
  { at: 1_250_999, way: 'out', source: 'wire', text: 'Fern 440.00 Hz' },
  { at: 3_000_000, way: 'word', source: 'lead', text: 'two\tparts\nof it' },
]
const ANY = { ways: new Set(WAYS), source: EVERY_SOURCE, text: '' }

test('the sieve: ways, a source, part of the text or the bytes', () => {
  expect(sifted(EVENTS, ANY)).toBe(EVENTS)
  expect(sifted(EVENTS, { ...ANY, ways: new Set(['in', 'out']) }).map(({ way }) => way)).toEqual([
    'in',
    'out',
  ])
  expect(sifted(EVENTS, { ...ANY, source: 'fern' })).toEqual([EVENTS[1]])
  expect(sifted(EVENTS, { ...ANY, text: 'FERN' })).toEqual([EVENTS[2]])
  expect(sifted(EVENTS, { ...ANY, text: '90 45' })).toEqual([EVENTS[0]])
  expect(sifted(EVENTS, { ...ANY, ways: new Set() })).toEqual([])
})

test('sources in order', () => {
  expect(sourcesOf([...EVENTS, ...EVENTS])).toEqual(['fern', 'keys', 'lead', 'wire'])
})

test('what came after an event; everything, where that has gone out of the list', () => {
  expect(eventsAfter(EVENTS, EVENTS[2])).toEqual([EVENTS[3]])
  expect(eventsAfter(EVENTS, EVENTS[3])).toEqual([])
  expect(eventsAfter(EVENTS, undefined)).toBe(EVENTS)
  expect(eventsAfter(EVENTS.slice(1), EVENTS[0])).toHaveLength(3)
  // The same words twice are two events.
  expect(eventsAfter([{ ...(EVENTS[0] as MonitorEvent) }], EVENTS[0])).toHaveLength(1)
})

test('times count from the first, whole milliseconds', () => {
  expect(EVENTS.map(({ at }) => eventTime(at, 1_000_000))).toEqual(['0.000', '0.000', '0.250', '2.000'])
})

test('tab-separated text: a line for each event, whatever is in it', () => {
  expect(tabbed(EVENTS.slice(2), 1_000_000).split('\n')).toEqual([
    'time\tway\tsource\ttext\tbytes',
    '0.250\tout\twire\tFern 440.00 Hz\t',
    '2.000\tword\tlead\ttwo parts of it\t',
    '',
  ])
})

test('latency as bars: octaves, the empty ones between them too', () => {
  const bins = [
    { upTo: 128, count: 10 },
    { upTo: 256, count: 70 },
    { upTo: 2048, count: 1 },
  ]
  expect(latencySlots(bins)).toEqual([
    { upTo: 128, count: 10 },
    { upTo: 256, count: 70 },
    { upTo: 512, count: 0 },
    { upTo: 1024, count: 0 },
    { upTo: 2048, count: 1 },
  ])
  expect(latencySlots([])).toEqual([])
})

test('finer bins are put together, none is lost', () => {
  const bins = Array.from({ length: 300 }, (_, index) => ({
    upTo: Math.round(10 * 1.05 ** index) / 10,
    count: 1,
  }))
  const slots = latencySlots(bins)
  expect(slots.reduce((sum, { count }) => sum + count, 0)).toBe(300)
  expect(slots.length).toBeLessThanOrEqual(32)
})

test('milliseconds with the figures that bear on them', () => {
  expect([210, 1400, 12_345, 350_000].map(milliseconds)).toEqual(['0.21', '1.4', '12.3', '350'])
})
