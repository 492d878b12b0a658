import type { LampId } from '../domain/ids.ts'
import type { Player } from '../domain/player.ts'
import type { Part } from '../domain/song.ts'

/** With fewer lamps each, players share them all. */
const LAMPS_EACH = 2

/** A part for each player of a first song, on lamps of its own where there are enough; pads at the far end. */
export function firstParts(players: readonly Player[], lamps: readonly LampId[]): Part[] {
  const isZoned = lamps.length >= LAMPS_EACH * players.length
  const order = [
    ...players.filter(({ kind }) => kind !== 'pads'),
    ...players.filter(({ kind }) => kind === 'pads'),
  ]
  const border = (place: number): number => Math.round((place * lamps.length) / order.length)
  return players.map((player) => {
    const place = order.indexOf(player)
    const own = isZoned ? lamps.slice(border(place), border(place + 1)) : sharedBy(player, lamps)
    return {
      id: player.id,
      player: player.id,
      lamps: own,
      transpose: 0,
      notes: [0, 127],
      onLost: 'move',
      gapMs: 0,
      ...playing(player),
    }
  })
}

/** Pads keep to the far half, so that a hit seldom finds a lamp that somebody holds. */
function sharedBy({ kind }: Player, lamps: readonly LampId[]): readonly LampId[] {
  return kind === 'pads' ? lamps.slice(Math.floor(lamps.length / 2)) : lamps
}

function playing({ kind }: Player): Pick<Part, 'strategy' | 'duty' | 'claim'> {
  const steady = { base: 0.5, low: 0.05, high: 0.5 }
  switch (kind) {
    case 'keys':
      return {
        strategy: { kind: 'lowest-free', steal: 'oldest', resume: true },
        duty: { ...steady, velocity: true },
      }
    case 'pads':
      return {
        strategy: { kind: 'rotate', steal: 'oldest', resume: false },
        duty: { ...steady, velocity: true },
      }
    case 'strings':
      return {
        strategy: { kind: 'unison', priority: 'last', detuneCents: [], spreadCents: 0, retrigger: false },
        duty: steady,
        claim: { when: 'playing', releaseMs: 500, priority: 0 },
      }
  }
}
