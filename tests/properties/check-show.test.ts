import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkShow } from '../../src/offline/check-show.ts'
import type { CheckFinding } from '../../src/offline/check/finding.ts'
import { GRAVITIES } from '../../src/offline/check/finding.ts'
import { formatFindings } from '../../src/offline/check/format-findings.ts'
import { validShow } from '../support/valid-show.ts'
import { checkProperty } from '../support/property.ts'
import type { Json, RawShow } from '../support/shows.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from '../support/shows.ts'

const wide = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined })

const output = fc.oneof(
  fc.record({
    kind: fc.constant('serial'),
    baud: fc.integer({ min: 300, max: 12_000_000 }),
    timer: fc.record({
      clockHz: wide(1e-3, 1e9),
      prescalers: fc.constantFrom([1], [1, 8, 64], [65_535]),
      bits: fc.integer({ min: 1, max: 32 }),
    }),
  }),
  fc.record({
    kind: fc.constant('midi'),
    layout: fc.constantFrom('channel-per-lamp', 'mpe', 'note-per-lamp'),
    firstNote: fc.integer({ min: 0, max: 120 }),
    bendRange: fc.integer({ min: 1, max: 96 }),
    bendBits: fc.integer({ min: 7, max: 14 }),
    dutyController: maybe(fc.constant(74)),
  }),
)

const lampFields = fc
  .record({
    watts: wide(0.001, 1000),
    rates: fc.tuple(wide(0.001, 99_999), wide(0.001, 99_999)).filter(([a, b]) => a !== b),
    duties: fc.tuple(wide(0, 1), wide(0, 1)),
    trimCents: wide(-1200, 1200),
    delayMs: fc.constantFrom(0, 4),
    output: fc.constantFrom('wire', 'din'),
  })
  .map(({ rates, duties, ...rest }) => ({
    ...rest,
    lowHz: Math.min(...rates),
    highHz: Math.max(...rates),
    minDuty: Math.min(...duties),
    maxDuty: Math.max(...duties),
  }))

const four = <T>(value: fc.Arbitrary<T>) => fc.array(value, { minLength: 4, maxLength: 4 })

const strategy = fc.oneof(
  fc.constantFrom<RawShow>({ kind: 'lowest-free' }, { kind: 'rotate' }, { kind: 'nearest' }),
  fc.record({ kind: fc.constant('unison'), detuneCents: fc.array(wide(-1200, 1200), { maxLength: 4 }) }),
  fc.record({
    kind: fc.constant('partials'),
    ratios: fc.array(wide(1e-6, 1024), { minLength: 1, maxLength: 4 }),
  }),
  fc.record({ kind: fc.constant('chime'), notes: four(fc.integer({ min: 0, max: 127 })) }),
  fc.record({
    kind: fc.constant('canon'),
    delay: fc.constantFrom('1/64', '1/2'),
    delayMs: maybe(wide(0, 60_000)),
  }),
  fc.record({
    kind: fc.constant('travel'),
    path: fc.oneof(
      fc.constantFrom<Json>('forward', 'pendulum', 'inward', 'shuffle'),
      fc.array(fc.constantFrom<Json>(...GLASSHOUSE_LAMPS), { minLength: 1, maxLength: 9 }),
    ),
    move: fc.oneof(
      fc.constantFrom<Json>('note', { every: '1/16' }),
      fc.record({ everyMs: wide(1, 600_000) }),
    ),
    width: fc.integer({ min: 1, max: 4 }),
    overlapMs: wide(0, 60_000),
  }),
)

const part = fc.record({
  strategy,
  player: fc.constantFrom('keys', 'pads'),
  transpose: fc.integer({ min: -127, max: 127 }),
  notes: fc.tuple(fc.nat(127), fc.nat(127)).map(([a, b]) => [Math.min(a, b), Math.max(a, b)]),
  duty: fc.record({
    base: wide(0, 1),
    low: wide(0, 1),
    high: wide(0, 1),
    controller: maybe(fc.constant(74)),
  }),
  claim: maybe(
    fc.record({
      when: fc.constantFrom('playing', 'latched', 'always'),
      priority: fc.integer({ min: -100, max: 100 }),
    }),
  ),
  onLost: fc.constantFrom('move', 'end'),
  gapMs: fc.constantFrom(0, 8),
  tuning: fc.constantFrom(undefined, undefined, 'even', 'some', 'sent'),
  pulse: maybe(
    fc.oneof(
      fc.record({ ratio: fc.constantFrom('3:2', '1:999', '999:1'), controller: maybe(fc.constant(1)) }),
      fc.record({ bpm: wide(1, 1800) }),
    ),
  ),
})

/** A map that leaves keys out, always with a pitch for the reference key, 60. */
const scale = fc.record({
  pitches: fc.array(fc.oneof(wide(-120_000, 120_000), fc.constantFrom<Json>('3/2', '2')), { maxLength: 5 }),
  map: maybe(
    fc.record({
      first: fc.nat(60),
      last: fc.integer({ min: 60, max: 127 }),
      formalOctave: fc.nat(9),
      degrees: fc
        .array(maybe(fc.nat(9)), { maxLength: 5 })
        .map((all) => [0, ...all.map((one) => one ?? null)]),
    }),
  ),
  refHz: wide(0.01, 1e5),
})

const song = fc.record({ tempo: wide(10, 1000), parts: fc.array(part, { maxLength: 4 }) })

/** Any rig of four lamps on two outputs, with songs of any parts: every one a show that the reader takes. */
const shows = fc
  .record({
    outputs: fc.tuple(output, output),
    samePort: fc.boolean(),
    lamps: four(lampFields),
    supply: fc.record({ volts: wide(0.1, 1000), maxAmps: wide(0.01, 10_000), usable: wide(0.01, 1) }),
    songs: fc.array(song, { minLength: 1, maxLength: 3 }),
    action: fc.constantFrom('refuse', 'warn'),
    thru: fc.boolean(),
    tuning: fc.record({
      steps: fc.integer({ min: 1, max: 1000 }),
      periodCents: wide(1, 12_000),
      refNote: fc.nat(127),
      refHz: wide(0.01, 1e5),
    }),
    scale,
  })
  .map(({ outputs, samePort, lamps, supply, songs, action, thru, tuning, scale: some }) => {
    const made = outputs.map((one, index) => ({
      ...one,
      id: index === 0 ? 'wire' : 'din',
      port: samePort ? 'Box' : `Box ${index}`,
    }))
    const midi = made.find(({ kind }) => kind === 'midi')
    const show = glasshouse({
      rig: {
        supplies: [{ id: 'bench', ...supply }],
        outputs: made,
        lamps: lamps.map((lamp, slot) => ({ ...lamp, id: GLASSHOUSE_LAMPS[slot], slot, supply: 'bench' })),
      },
      players: [
        { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
        { id: 'pads', kind: 'pads', input: { port: 'Keybed', channels: [10] } },
      ],
      thru: thru && midi ? [{ player: 'pads', to: midi.id, pass: ['notes', 'bend'], channel: 2 }] : [],
      tunings: [
        { id: 'even', kind: 'equal', ...tuning },
        { id: 'some', kind: 'scale', refNote: 60, ...some },
        { id: 'sent', kind: 'received', player: 'keys', base: 'some' },
      ],
      songs: songs.map(({ tempo, parts }, index) => ({
        id: `song-${index}`,
        title: 'Any',
        tempo,
        parts: parts.map((one, place) => ({ ...one, id: `part-${place}`, lamps: [...GLASSHOUSE_LAMPS] })),
      })),
      guards: { supply: { action } },
    } as unknown as RawShow)
    // As a file has it: what is left out is not there at all.
    return JSON.parse(JSON.stringify(show)) as RawShow
  })

test('any show is checked, never thrown at, and what is said can be read', () => {
  const met = new Set<CheckFinding['gravity']>()
  checkProperty(
    'check of any show',
    fc.property(shows, (raw) => {
      const findings = checkShow(validShow(raw))
      expect(findings.at(-1)?.where).toBe('every show')
      const order = findings.map(({ gravity }) => GRAVITIES.indexOf(gravity))
      expect(order).toEqual(order.toSorted((a, b) => a - b))
      for (const { gravity } of findings) met.add(gravity)
      expect(formatFindings(findings)).not.toMatch(/NaN|undefined|null|Infinity|\[object/)
    }),
  )
  // Shows with nothing the matter would prove nothing.
  expect([...met].toSorted()).toEqual(['fault', 'note', 'warning'])
})
