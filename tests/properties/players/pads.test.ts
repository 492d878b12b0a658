import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { PadCurve } from '../../../src/domain/pad-curve.ts'
import { curved } from '../../../src/domain/pad-curve.ts'
import type { PadsPlayer } from '../../../src/domain/player.ts'
import type { PlayerEvent } from '../../../src/domain/player-event.ts'
import { off, on } from '../../support/midi-messages.ts'
import { padsPlayer, playPads } from '../../support/players.ts'
import { checkProperty } from '../../support/property.ts'

const KEYS = [36, 38, 42]
const MS = 1_000

const time = fc.constantFrom(0, 2, 5, 12, 30)
const curve = fc.constantFrom<PadCurve>('linear', 'soft', 'hard', [
  [20, 10],
  [90, 80],
])
const maybe = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(of, { nil: undefined })
const pad = fc.record({
  key: fc.constantFrom(...KEYS),
  name: fc.constant('Pad'),
  floor: maybe(fc.constantFrom(0, 8, 60)),
  maskMs: maybe(time),
  gateMs: maybe(fc.constantFrom(1, 40, 200)),
  curve: maybe(curve),
})
const player = fc.record({
  floor: fc.constantFrom(0, 8, 40),
  maskMs: time,
  crosstalkMs: time,
  gateMs: fc.constantFrom(1, 50, 120),
  curve,
  pads: fc.uniqueArray(pad, { selector: ({ key }) => key, maxLength: 3 }),
})

/** Every hit has its note-off at once, as pads send it. */
const take = fc
  .array(
    fc.record({
      after: fc.oneof(
        fc.integer({ min: 0, max: 8 * MS }),
        fc.constantFrom(0, 5 * MS, 12 * MS, 30 * MS, 250 * MS),
      ),
      key: fc.constantFrom(...KEYS),
      velocity: fc.integer({ min: 1, max: 127 }),
    }),
    { maxLength: 60 },
  )
  .map((hits) => {
    let at = 0
    return hits.map(({ after, key, velocity }) => ({ at: (at += after), key, velocity }))
  })
type Hit = { readonly at: number; readonly key: number; readonly velocity: number }

/** What is set for a key, its own before the player's. */
function set<Field extends 'floor' | 'maskMs' | 'gateMs' | 'curve'>(
  { pads, ...all }: PadsPlayer,
  key: number,
  field: Field,
): PadsPlayer[Field] {
  const own = pads.find((one) => one.key === key)?.[field]
  return (own ?? all[field]) as PadsPlayer[Field]
}

interface Fate extends Hit {
  readonly why: 'floor' | 'mask' | 'crosstalk' | undefined
}

/** The rules as they are written for people, each hit compared with every one before it. */
function fates(pads: PadsPlayer, hits: readonly Hit[]): Fate[] {
  const all: Fate[] = []
  for (const hit of hits) {
    const taken = all.filter(({ why }) => why === undefined)
    const own = taken.findLast(({ key }) => key === hit.key)
    const isShaken = taken.some(
      ({ key, at, velocity }) =>
        key !== hit.key && hit.at - at < pads.crosstalkMs * MS && hit.velocity < velocity / 3,
    )
    const why =
      hit.velocity < set(pads, hit.key, 'floor')
        ? 'floor'
        : own && hit.at - own.at < set(pads, hit.key, 'maskMs') * MS
          ? 'mask'
          : isShaken
            ? 'crosstalk'
            : undefined
    all.push({ ...hit, why })
  }
  return all
}

function play(more: Partial<PadsPlayer>, hits: readonly Hit[]) {
  const run = playPads({ ...more, input: { port: 'Pads', channels: [1] } })
  const outs = hits.map(({ at, key, velocity }) => {
    const out = run.at(at, on(key, velocity)).at(-1)
    run.at(at, off(key))
    return out
  })
  run.runOut()
  return { outs, said: run.said }
}

/** In a line, so that a fault is soon told however long the take is. */
function words(out: PlayerEvent | undefined): string {
  if (out?.kind === 'note-on') return `${out.key} taken for ${out.velocity}`
  return out?.kind === 'dropped' ? `${out.key} at ${out.velocity}: ${out.why}` : `${out?.kind}`
}

test('each hit is taken, or dropped for the reason that the rules give, and has the strength that its curve gives', () => {
  checkProperty(
    'pads: hits in are hits taken and dropped',
    fc.property(player, take, (more, hits) => {
      const pads = padsPlayer(more)
      const { outs, said } = play(more, hits)
      const expected = fates(pads, hits).map(({ key, velocity, why }) =>
        why === undefined
          ? `${key} taken for ${curved(set(pads, key, 'curve'), velocity)}`
          : `${key} at ${velocity}: ${why}`,
      )
      expect(outs.map(words)).toEqual(expected)
      const struck = outs.map((out) => (out?.kind === 'note-on' ? out.struck : undefined))
      expect(struck.every((one, place) => one === undefined || one === hits[place]?.velocity)).toBe(true)
      const heard = said.filter(({ out }) => out.kind === 'note-on' || out.kind === 'dropped')
      expect(heard).toHaveLength(hits.length)
    }),
    2000,
  )
})

test('each strike ends by its own off, one gate later or when its pad is struck again', () => {
  checkProperty(
    'pads: gates',
    fc.property(player, take, (more, hits) => {
      const pads = padsPlayer(more)
      const { said } = play(more, hits)
      const strikes = said.flatMap(({ at, out }) => (out.kind === 'note-on' ? [{ at, out }] : []))
      for (const [place, { at, out }] of strikes.entries()) {
        const next = strikes.slice(place + 1).find((one) => one.out.key === out.key)?.at ?? Infinity
        const ends = said.filter((one) => one.out.kind === 'note-off' && one.out.note === out.note)
        expect(ends.map((one) => one.at)).toEqual([Math.min(next, at + set(pads, out.key, 'gateMs') * MS)])
      }
      expect(said.filter(({ out }) => out.kind === 'note-off')).toHaveLength(strikes.length)
    }),
    2000,
  )
})

test('a mask bears on its own pad only: what others play changes nothing about it', () => {
  checkProperty(
    'pads: masks',
    fc.property(player, take, fc.constantFrom(...KEYS), (more, hits, key) => {
      // Without crosstalk, which is between pads by its nature.
      const quiet = { ...more, crosstalkMs: 0 }
      const own = (all: readonly Hit[]): string[] =>
        play(quiet, all).said.flatMap(({ at, out }) =>
          (out.kind === 'note-on' || out.kind === 'dropped') && out.key === key
            ? [`${at} ${words(out)}`]
            : [],
        )
      expect(own(hits)).toEqual(own(hits.filter((hit) => hit.key === key)))
    }),
  )
})
