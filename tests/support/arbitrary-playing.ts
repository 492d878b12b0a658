import fc from 'fast-check'
import type { PlayerId } from '../../src/domain/ids.ts'
import type { Micros } from '../../src/domain/units.ts'

/** Bytes that come from a player's port, so long after those before. */
export interface Played {
  readonly player: PlayerId
  readonly bytes: readonly number[]
  readonly after: Micros
}

const LOWEST = 36
const HIGHEST = 60
const key = fc.integer({ min: LOWEST, max: HIGHEST })
const after = fc.constantFrom(0, 0, 1_000, 15_000, 60_000, 250_000)
const CHANNELS: Record<PlayerId, readonly number[]> = { keys: [0, 0, 0, 1], pads: [9], bass: [0, 1] }

function messageOf(channel: number): fc.Arbitrary<number[]> {
  const on = fc.tuple(key, fc.integer({ min: 1, max: 127 })).map(([k, v]) => [0x90 | channel, k, v])
  const off = key.map((k) => [0x80 | channel, k, 64])
  const pedal = fc
    .tuple(fc.constantFrom(64, 66), fc.constantFrom(0, 127))
    .map(([controller, value]) => [0xb0 | channel, controller, value])
  const duty = fc.integer({ min: 0, max: 127 }).map((value) => [0xb0 | channel, 74, value])
  const bend = fc.integer({ min: 0, max: 16383 }).map((value) => [0xe0 | channel, value & 0x7f, value >> 7])
  const mode = fc.constantFrom(120, 121, 123).map((controller) => [0xb0 | channel, controller, 0])
  return fc.oneof(
    { weight: 8, arbitrary: on },
    { weight: 6, arbitrary: off },
    { weight: 2, arbitrary: pedal },
    { weight: 1, arbitrary: duty },
    { weight: 1, arbitrary: bend },
    { weight: 1, arbitrary: mode },
  )
}

/** A band playing: notes, pedals, bends and the rest, often at the same moment. */
export const arbitraryPlaying: fc.Arbitrary<readonly Played[]> = fc.array(
  playedBy(fc.constantFrom('keys', 'keys', 'pads', 'bass')),
  { maxLength: 60 },
)

function playedBy(players: fc.Arbitrary<PlayerId>): fc.Arbitrary<Played> {
  return players.chain((player) =>
    fc.record({
      player: fc.constant(player),
      bytes: fc.constantFrom(...(CHANNELS[player] ?? [0])).chain(messageOf),
      after,
    }),
  )
}

/** The same with the controls of `SWITCHING_CONTROLS` worked often: programs, pedals, keys and pads. */
export const arbitrarySwitching: fc.Arbitrary<readonly Played[]> = fc.array(
  fc.oneof(
    { weight: 3, arbitrary: playedBy(fc.constantFrom('keys', 'keys', 'pads', 'bass')) },
    { weight: 2, arbitrary: worked() },
  ),
  { minLength: 60, maxLength: 140, size: 'max' },
)

function worked(): fc.Arbitrary<Played> {
  const program = fc.constantFrom(0, 1, 2, 3, 0, 1, 2, 9, 12).map((number) => [0xc0, number])
  const pedal = fc
    .tuple(fc.constantFrom(80, 80, 81, 82), fc.constantFrom([127, 0], [64, 63], [127], [0]))
    .map(([controller, values]) => values.flatMap((value) => [0xb0, controller, value]))
  const key = fc.constantFrom(0x90, 0x80).map((status) => [status, 37, 90])
  const pad = fc.constantFrom(38, 39).map((number) => [0x99, number, 90, 0x89, number, 64])
  const string = fc.constantFrom(0, 127).map((value) => [0xb1, 80, value])
  const by = (player: PlayerId, bytes: fc.Arbitrary<number[]>): fc.Arbitrary<Played> =>
    fc.record({ player: fc.constant(player), bytes, after })
  return fc.oneof(
    { weight: 4, arbitrary: by('keys', program) },
    { weight: 4, arbitrary: by('keys', pedal) },
    { weight: 2, arbitrary: by('keys', key) },
    { weight: 1, arbitrary: by('pads', pad) },
    { weight: 1, arbitrary: by('bass', string) },
  )
}

/** Everything let go: keys up, all or those that are ever played, pedals up, on every channel. */
export function lettingGo(which: 'all' | 'played' = 'all'): readonly Played[] {
  const [low, high] = which === 'all' ? [0, 127] : [LOWEST, HIGHEST]
  const all: Played[] = []
  for (const [player, channels] of Object.entries(CHANNELS)) {
    for (const channel of new Set(channels)) {
      for (let k = low; k <= high; k++) all.push({ player, bytes: [0x80 | channel, k, 64], after: 0 })
      for (const pedal of [64, 66]) all.push({ player, bytes: [0xb0 | channel, pedal, 0], after: 0 })
    }
  }
  return all
}
