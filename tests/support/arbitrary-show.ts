import fc from 'fast-check'
import type { Show } from '../../src/domain/show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { patternsArbitrary } from './patterns-arbitrary.ts'
import type { RawShow } from './shows.ts'
import { validShow } from './valid-show.ts'

const PLANTS = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm', 'lotus', 'iris']
const PLAYERS: RawShow[] = [
  { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
  {
    id: 'pads',
    kind: 'pads',
    input: { port: 'Pads', channels: [10] },
    gateMs: 30,
    curve: 'soft',
    pads: [{ key: 40, name: 'Rim', gateMs: 45, curve: 'hard' }],
  },
  { id: 'bass', kind: 'strings', input: { port: 'Bass', channels: [1, 2] } },
]

const priority = fc.constantFrom('last', 'low', 'high', 'first')
const steal = fc.constantFrom('oldest', 'quietest', 'lowest', 'highest', 'none')

/** Options of every registered kind, for a part of these lamps. */
export function arbitraryStrategy(lamps: readonly string[]): fc.Arbitrary<RawShow> {
  const kinds: Record<string, fc.Arbitrary<RawShow>> = {
    unison: fc.record({ kind: fc.constant('unison'), priority, retrigger: fc.boolean() }),
    'lowest-free': fc.record({ kind: fc.constant('lowest-free'), steal, resume: fc.boolean() }),
    travel: fc.record({
      kind: fc.constant('travel'),
      path: fc.oneof(
        fc.constantFrom('forward', 'backward', 'pendulum', 'inward', 'outward', 'shuffle'),
        fc.array(fc.constantFrom(...lamps), { minLength: 1, maxLength: 5 }),
      ),
      move: fc.oneof(
        fc.constant('note'),
        fc.constantFrom('1/16', '3/64').map((every) => ({ every })),
        fc.integer({ min: 5, max: 90 }).map((everyMs) => ({ everyMs })),
      ),
      width: fc.integer({ min: 1, max: lamps.length }),
      overlapMs: fc.constantFrom(0, 7, 120),
      priority,
    }),
    rotate: fc.record({ kind: fc.constant('rotate'), steal, resume: fc.boolean() }),
    nearest: fc.record({ kind: fc.constant('nearest'), steal, resume: fc.boolean() }),
    chime: fc.record({
      kind: fc.constant('chime'),
      notes: fc.array(fc.integer({ min: 36, max: 48 }), { minLength: lamps.length, maxLength: lamps.length }),
    }),
    partials: fc.record({ kind: fc.constant('partials'), priority }),
    steps: fc.record(
      { kind: fc.constant('steps'), pattern: fc.constant('a'), starts: fc.constantFrom('hit', 'song') },
      { requiredKeys: ['kind'] },
    ),
    canon: fc.record({
      kind: fc.constant('canon'),
      delay: fc.constantFrom('1/8', '1/32'),
      priority,
    }),
  }
  const missing = strategies.filter(({ kind }) => !(kind in kinds))
  if (missing.length > 0) throw new Error(`no options here for ${missing.map(({ kind }) => kind).join(', ')}`)
  return fc.oneof(...Object.values(kinds))
}

const claim = fc.option(
  fc.record({
    when: fc.constantFrom('playing', 'latched', 'always'),
    releaseMs: fc.constantFrom(0, 20, 500),
    priority: fc.constantFrom(0, 0, 1, -1),
  }),
  { nil: undefined },
)

const DUTIES = [
  fc.constant<RawShow>({ velocity: true }),
  fc.constant<RawShow>({ controller: 74 }),
  fc.constant<RawShow>({ keys: [36, 60] }),
  fc.constant<RawShow>({ sweepSeconds: 0.7 }),
]

/** A field that is there or not. */
const maybe = <T>(...values: T[]) => fc.constantFrom(undefined, undefined, ...values)

const MOTIONS = {
  tuning: maybe('wide', 'holed'),
  glide: maybe<RawShow>({ ms: 30 }, { centsPerSecond: 6000, when: 'always' }),
  vibrato: maybe<RawShow>({ cents: 30, hz: 6, delayMs: 20 }, { controller: 74 }),
  pulse: maybe<RawShow>({ ratio: '3:2' }, { bpm: 300, controller: 74 }),
}

const SONG_MOTIONS = { wander: maybe<RawShow>({ cents: 12, seconds: 0.5 }) }

const TUNINGS: RawShow[] = [
  { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 },
  { id: 'wide', kind: 'equal', steps: 13, periodCents: 1901.955, refNote: 60, refHz: 262 },
  {
    id: 'holed',
    kind: 'scale',
    pitches: ['9/8', 386.3, '3/2', '2'],
    map: { middle: 60, formalOctave: 4, degrees: [0, 1, null, 2, 3] },
    refNote: 60,
    refHz: 264,
  },
]

interface ShowOptions {
  /** False: no gaps and no delays. */
  readonly held?: boolean
  /** False: no pattern is moved by the clock, and so none plays on once everything is let go. */
  readonly clock?: boolean
  /** The longest a pattern's step may sound, in steps. */
  readonly longestGate?: number
  /** Parts and songs with tunings of their own, and whose pitch or duty moves by itself. */
  readonly moving?: boolean
  /** Songs with ways from one to the other: controls of every kind, see `SWITCHING_CONTROLS`. */
  readonly songs?: number
  /** Flash guards, of the show and of its songs; left out: all warn. */
  readonly flash?: readonly RawShow[]
}

/** Guards of every kind, tight enough to be felt. */
export const FLASH_GUARDS: readonly RawShow[] = [
  { action: 'fold' },
  { action: 'glow', seconds: 0.5 },
  { action: 'limit', changes: 2 },
  { action: 'limit', changes: 5 },
  { action: 'limit' },
]

/** What the players of a show with several songs change them by. */
export const SWITCHING_CONTROLS: RawShow[] = [
  { player: 'keys', on: { kind: 'program' }, do: 'number' },
  { player: 'keys', on: { kind: 'program', program: 9 }, do: { song: 'song1' } },
  { player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'next' },
  { player: 'keys', on: { kind: 'controller', controller: 81 }, do: 'previous' },
  { player: 'keys', on: { kind: 'controller', controller: 82 }, do: 'variant' },
  { player: 'keys', on: { kind: 'note', key: 37 }, do: 'next' },
  { player: 'pads', on: { kind: 'note', key: 38 }, do: { place: 1 } },
  { player: 'pads', on: { kind: 'note', key: 39 }, do: 'dark' },
  { player: 'bass', on: { kind: 'controller', controller: 80, channel: 2 }, do: 'next' },
]

/** A valid show: a few lamps on a serial and a MIDI output, three players, songs of one to three parts that may share lamps and claim them. */
export function arbitraryShow(options: ShowOptions = {}): fc.Arbitrary<Show> {
  const { held = true, songs: songCount = 1 } = options
  const flash = fc.constantFrom(...(options.flash ?? [{ action: 'warn' }]))
  const advance = options.clock === false ? ['hit'] : ['hit', 'clock', 'both']
  return fc.integer({ min: 1, max: PLANTS.length }).chain((count) => {
    const lamps = PLANTS.slice(0, count)
    const subset = fc.shuffledSubarray(lamps, { minLength: 1 })
    const part = subset.chain((own) =>
      fc.record({
        lamps: fc.constant(own),
        player: fc.constantFrom('keys', 'pads', 'bass'),
        strategy: arbitraryStrategy(own),
        claim,
        onLost: fc.constantFrom('move', 'end'),
        notes: fc.constantFrom([0, 127], [0, 127], [0, 47], [46, 127]),
        gapMs: held ? fc.constantFrom(0, 0, 4) : fc.constant(0),
        transpose: fc.integer({ min: -12, max: 12 }),
        duty: options.moving ? fc.oneof(...DUTIES) : fc.oneof(...DUTIES.slice(0, 2)),
        ...(options.moving ? MOTIONS : {}),
      }),
    )
    const song = fc.record({
      parts: fc.array(part, { minLength: 1, maxLength: 3 }),
      tempo: fc.constantFrom(60, 97.0625, 137.0625),
      beats: fc.constantFrom(1, 3, 4),
      ...(options.moving ? SONG_MOTIONS : {}),
      enter: fc.constantFrom('cut', 'carry'),
      enterAt: fc.constantFrom('now', 'now', 'now', 'beat', 'bar', 'release', undefined),
      skip: fc.constantFrom(false, false, false, true),
      isVariant: fc.constantFrom(false, false, true),
      ...(options.flash ? { flash: fc.option(flash, { nil: undefined }) } : {}),
      patterns: patternsArbitrary(lamps, { keys: [36, 60], advance, longestGate: options.longestGate }),
    })
    return fc
      .record({
        songs: fc.array(song, { minLength: songCount, maxLength: songCount }),
        enterAt: fc.constantFrom('now', 'now', 'beat', 'bar', 'release'),
        maxAmps: fc.constantFrom(1, 2, 3, 100),
        guard: fc.constantFrom('refuse', 'refuse', 'steal'),
        lowHz: fc.constantFrom(20, 300),
        delayMs: held ? fc.constantFrom(0, 0, 3) : fc.constant(0),
        layout: fc.constantFrom('channel-per-lamp', 'note-per-lamp', 'mpe'),
        flash,
      })
      .map(({ songs, enterAt, maxAmps, guard, lowHz, delayMs, layout, flash: ofShow }) =>
        validShow({
          format: 'lanthorn-show',
          version: 1,
          title: 'Any',
          rig: {
            supplies: [{ id: 'bench', volts: 12, maxAmps }],
            outputs: [
              { id: 'wire', kind: 'serial', port: 'wire' },
              { id: 'din', kind: 'midi', port: 'din', layout },
            ],
            lamps: lamps.map((id, index) => ({
              id,
              output: index % 3 === 2 ? 'din' : 'wire',
              slot: index,
              supply: 'bench',
              watts: 10,
              lowHz,
              highHz: 2 * lowHz + 100,
              delayMs: index === 1 ? delayMs : 0,
            })),
          },
          players: PLAYERS,
          guards: { supply: { action: guard }, flash: ofShow },
          ...(options.moving ? { tunings: TUNINGS } : {}),
          songs: songs.map(({ parts, isVariant, patterns, enterAt: own, ...rest }, place) => ({
            id: songCount === 1 ? 'song' : `song${place}`,
            title: 'Song',
            ...rest,
            ...(own ? { enterAt: own } : {}),
            ...(isVariant && place > 0 ? { variantOf: 'song0' } : {}),
            parts: parts.map(({ claim: right, ...more }, index) => ({
              id: songCount === 1 ? `part${index}` : `song${place}part${index}`,
              ...more,
              ...(right ? { claim: right } : {}),
            })),
            // Rows of lamps that a part has not are a fault where it begins with them.
            patterns: fitting(patterns, parts),
          })),
          ...(songCount === 1 ? {} : { switching: { enterAt, controls: SWITCHING_CONTROLS } }),
        }),
      )
  })
}

/** The first pattern on lamps of the parts that begin with it. */
function fitting(
  patterns: readonly RawShow[],
  parts: readonly { readonly lamps: readonly string[]; readonly strategy: RawShow }[],
): RawShow[] {
  const own = parts.filter(({ strategy }) => strategy['kind'] === 'steps').flatMap(({ lamps }) => lamps)
  if (own.length === 0) return [...patterns]
  const moved = (one: RawShow): RawShow =>
    'lamp' in one && !own.includes(String(one['lamp'])) ? { ...one, lamp: own[0] ?? '' } : one
  return patterns.map((pattern) => ({
    ...pattern,
    rows: (pattern['rows'] as RawShow[]).map(moved),
    ...('pads' in pattern ? { pads: (pattern['pads'] as RawShow[]).map(moved) } : {}),
  }))
}
