import { expect, test } from 'vitest'
import type { Part } from '../../../../src/domain/song.ts'
import { html, joined, named } from '../../../../src/offline/sheet/html.ts'
import { claimWords, dutyWords, keysWords, ordinal } from '../../../../src/offline/sheet/part-words.ts'
import {
  glideWords,
  pitchWords,
  pulseWords,
  vibratoWords,
  wanderWords,
} from '../../../../src/offline/sheet/motion-words.ts'
import { lengthWords, tempoWords, tuningWords } from '../../../../src/offline/sheet/song-words.ts'
import { strategyWords } from '../../../../src/offline/sheet/strategy-words.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { HOSTILE, HOSTILE_SHOWN } from '../../../support/hostile-show.ts'
import { richShow } from '../../../support/rich-show.ts'
import { validShow } from '../../../support/valid-show.ts'

const { songs } = validShow(richShow())

function part(id: string): Part {
  const found = songs.flatMap((song) => song.parts).find((one) => one.id === id)
  if (!found) throw new Error(`no part ${id}`)
  return found
}

function words(one: Part): string {
  const song = songs.find(({ parts }) => parts.some(({ id }) => id === one.id))
  if (!song) throw new Error(`no song of part ${one.id}`)
  return strategyWords(one, song, (lamp) => lamp.toUpperCase())
}

test.each([
  ['lead', 'each note takes the first free lamp; where none is free, the quietest note gives way'],
  [
    'low',
    'one voice on all lamps; of held keys the lowest sounds; detuned by 0, 3, −3, 0 cents, lamp by lamp; legato notes go on without a gap',
  ],
  [
    'line',
    'one voice that moves over the lamps, by way of REED, FERN; a move every 1/16; 2 lamps wide; of held keys the last struck sounds',
  ],
  [
    'drift',
    'one voice that moves over the lamps, there and back; a move every 90 ms; a lamp left sounds on 5 ms; of held keys the last struck sounds',
  ],
  [
    'bells',
    'each lamp answers to its own key, as it is played; FERN C4 (60), MOSS D4 (62), REED E4 (64), SEDGE F4 (65)',
  ],
  [
    'stack',
    'one voice spread over the lamps as its partials; FERN 1, MOSS 1.5, REED 2; of held keys the last struck sounds',
  ],
  ['round', 'each lamp repeats the line of the one before; 1/4 later; of held keys the last struck sounds'],
  ['turn', 'each note takes the next lamp in turn; where none is free, it stays dark'],
  [
    'close',
    'each note takes the free lamp whose last pitch is closest; where none is free, the oldest note gives way',
  ],
  [
    'grid',
    'a pattern of steps, a row for each lamp; Four, moved every 1/8 and by hits; then, by a pad, five; its clock starts with the song',
  ],
])('the strategy of part %s in words', (id, said) => {
  expect(words(part(id))).toBe(said)
})

test('every registered strategy is said in words, and one that is not known by its options', () => {
  const parts = songs.flatMap((song) => song.parts)
  expect(new Set(parts.map(({ strategy }) => strategy.kind))).toEqual(
    new Set(strategies.map(({ kind }) => kind)),
  )
  expect(words({ ...part('lead'), strategy: { kind: 'drizzle', width: 3, way: { every: '1/8' } } })).toBe(
    'drizzle; width 3; way {"every":"1/8"}',
  )
})

test('a unison that is spread says so, one that is not says nothing', () => {
  const low = part('low')
  expect(words(low)).not.toContain('spread')
  expect(words({ ...low, strategy: { ...low.strategy, spreadCents: 24 } })).toContain(
    'spread evenly over 24 cents, from its first lamp to its last',
  )
})

test('a chime is told by the keys that are played', () => {
  const bells = { ...part('bells'), transpose: 24 }
  expect(words(bells)).toContain('FERN C2 (36), MOSS D2 (38)')
  expect(words({ ...bells, transpose: 61 })).toContain('FERN -1, which no key is, MOSS C#-1 (1)')
})

test('keys, duty and claims', () => {
  const keys = (low: number, high: number): string => keysWords({ ...part('lead'), notes: [low, high] })
  expect([keys(0, 127), keys(60, 60), keys(0, 59), keys(61, 127), keys(36, 84)]).toEqual([
    'all',
    'C4 (60)',
    'up to B3 (59)',
    'from C#4 (61) up',
    'C2 (36) to C6 (84)',
  ])
  expect(dutyWords(part('lead'))).toBe('0.5')
  expect(dutyWords(part('bells'))).toBe('0.05 to 0.5 by how hard it is struck')
  expect(dutyWords(part('stack'))).toBe('0.05 to 0.5 by controller 1; 0.5 until it moves')
  expect(dutyWords({ ...part('lead'), duty: { base: 0.5, keys: [28, 64], low: 0.08, high: 0.4 } })).toBe(
    '0.08 to 0.4 by the key, from E1 (28) to E4 (64)',
  )
  expect(dutyWords({ ...part('lead'), duty: { base: 0.5, sweepSeconds: 30, low: 0.08, high: 0.4 } })).toBe(
    '0.08 to 0.4 and back again in 30 s',
  )
  const claim = (when: 'playing' | 'latched' | 'always'): string =>
    claimWords({ ...part('lead'), claim: { when, releaseMs: 250, priority: 0 } })
  expect([claimWords(part('lead')), claim('playing'), claim('latched'), claim('always')]).toEqual([
    'none',
    'its lamps, while it plays and 250 ms longer',
    'its lamps, from its first note until all is made dark',
    'its lamps, always',
  ])
})

test('tempo to four decimals, lengths to the second, tunings', () => {
  expect([120, 97.0625, 82.40625, 100.00004].map(tempoWords)).toEqual([
    '120 beats a minute',
    '97.0625 beats a minute',
    '82.4063 beats a minute',
    '100 beats a minute',
  ])
  expect([0, 4.5, 59.99, 59.995, 60, 125.25].map(lengthWords)).toEqual([
    '0:00',
    '4:30',
    '59:59',
    '1:00:00',
    '1:00:00',
    '2:05:15',
  ])
  const equal = { id: 'even', kind: 'equal', refNote: 69, refHz: 440 } as const
  expect(tuningWords({ ...equal, steps: 12, periodCents: 1200 })).toBe(
    '12 equal steps to the octave; A4 (69) sounds 440 Hz',
  )
  expect(tuningWords({ ...equal, steps: 13, periodCents: 1901.955 })).toBe(
    '13 equal steps to 1901.955 cents; A4 (69) sounds 440 Hz',
  )
})

test('what moves the pitch: tuning, glide, vibrato, pulse, drift', () => {
  expect(pitchWords(part('lead'), 120)).toBe('as played')
  expect(glideWords({ ms: 90, when: 'legato' })).toBe('glides in 90 ms, to legato notes')
  expect(glideWords({ centsPerSecond: 2400, when: 'always' })).toBe(
    'glides at 2400 cents a second, to every note from the last',
  )
  expect(vibratoWords({ cents: 20, hz: 5.5, delayMs: 300, controller: 1 })).toBe(
    'wavers 20 cents either way, 5.5 times a second, 300 ms after the strike, as much as controller 1 says',
  )
  expect(wanderWords({ cents: 8, seconds: 20, seed: 1 })).toBe(
    'each lamp by itself, 8 cents either way at most, another way every 20 s',
  )
  const moved = { ...part('lead'), tuning: 'just', vibrato: { cents: 20, hz: 5.5, delayMs: 0 } }
  expect(pitchWords(moved, 120)).toBe('in the tuning just; wavers 20 cents either way, 5.5 times a second')
})

test('a pulse says what it comes to, and is cautioned of in the band of most concern', () => {
  // Three to two beats at 97.0625 beats a minute: 97.0625 x 3 / 2 / 60 Hz.
  expect(pulseWords({ ratio: '3:2' }, 97.0625)).toBe('flashes as a pulse, 3:2, flashes to beats: 2.427 Hz')
  const band = 'caution: 3 to 30 Hz is the band of most concern for photosensitive people'
  expect(pulseWords({ ratio: '3:2' }, 120)).toBe(`flashes as a pulse, 3:2, flashes to beats: 3 Hz; ${band}`)
  expect(pulseWords({ bpm: 1800 }, 97)).toContain(`30 Hz; ${band}`)
  // On its way to the pitch it comes through the band.
  expect(pulseWords({ bpm: 60, controller: 1 }, 97)).toBe(
    `flashes as a pulse, 60 flashes a minute: 1 Hz; controller 1 takes it to the pitch of its notes; ${band}`,
  )
})

test('ordinals', () => {
  expect([1, 2, 3, 4, 11, 12, 13, 21, 22, 23, 101, 111, 112, 512].map(ordinal).join(' ')).toBe(
    '1st 2nd 3rd 4th 11th 12th 13th 21st 22nd 23rd 101st 111th 112th 512th',
  )
})

test('what comes from a show is text, in elements and in quotes; pieces stand as they are', () => {
  const piece = html`<p title="${HOSTILE}">${joined([named('a<b'), 2, [HOSTILE]], ' & ')}</p>`
  const escaped = HOSTILE_SHOWN.replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
  expect(piece.text).toBe(`<p title="${escaped}"><bdi>a&lt;b</bdi> &amp; 2 &amp; ${escaped}</p>`)
  expect(html`${'tab\tline\nend\u{1f33f}\ufdd0'}`.text).toBe('tab\tline\nend\u{1f33f}\ufffd')
})
