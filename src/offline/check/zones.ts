import type { LampId, PlayerId } from '../../domain/ids.ts'
import type { Control } from '../../domain/switching.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { Key } from '../../domain/units.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { grouped } from './grouped.ts'
import { keySpans } from './key-spans.ts'
import { lampsNamed, listed } from './listed.ts'
import { strategyReach } from './strategy-reach.ts'
import type { Survey } from './survey.ts'

const NO_KEYS: readonly [Key, Key] = [128, -1]

/** Several parts of one player: keys that two of them take on the same lamps, and keys that none of them takes. */
export function zoneFindings({ show, songs }: Survey): CheckFinding[] {
  const { controls } = show.switching
  return songs.flatMap(({ song, place }) => songFindings(song, place, controls))
}

function songFindings(song: Song, place: FindingPlace, controls: readonly Control[]): CheckFinding[] {
  return [...grouped(song.parts, ({ player }) => player)].flatMap(([player, zones]) =>
    zones.length < 2
      ? []
      : [...overlaps(song, zones, player, place), ...gaps(zones, player, place, controls)],
  )
}

/** Two parts that take the same keys both sound: on lamps of their own that is a layer, on shared lamps each is in the other's way. */
function overlaps(song: Song, parts: readonly Part[], player: PlayerId, place: FindingPlace): CheckFinding[] {
  const zones = parts.map((part) => ({ part, ranges: lampRanges(song, part) }))
  return zones.flatMap(({ part, ranges }, index) =>
    zones.slice(index + 1).flatMap((other): CheckFinding[] => {
      const keys = new Set<Key>()
      const lamps = [...ranges].flatMap(([lamp, [low, high]]) => {
        const [otherLow, otherHigh] = other.ranges.get(lamp) ?? NO_KEYS
        const both = keysBetween(Math.max(low, otherLow), Math.min(high, otherHigh))
        for (const key of both) keys.add(key)
        return both.length > 0 ? [lamp] : []
      })
      if (lamps.length === 0) return []
      const spans = keySpans([...keys].sort((a, b) => a - b))
      const message = `parts ${part.id} and ${other.part.id} of player ${player} both take ${spans} on ${lampsNamed(lamps)}: such a key sounds in both, and each wants a lamp for it. Part their "notes" or their lamps where that is not meant.`
      return [{ gravity: 'note', ...place, message }]
    }),
  )
}

/** A player whose parts take different keys has a split: keys beside it light nothing. Keys that are controls are not played. */
function gaps(
  zones: readonly Part[],
  player: PlayerId,
  place: FindingPlace,
  controls: readonly Control[],
): CheckFinding[] {
  const isSplit = zones.some(
    ({ notes: [low, high] }) => low !== zones[0]?.notes[0] || high !== zones[0]?.notes[1],
  )
  if (!isSplit) return []
  const used = new Set(
    controls.flatMap(({ player: whose, on }) => (whose === player && on.kind === 'note' ? [on.key] : [])),
  )
  const left = keysBetween(0, 127).filter(
    (key) => !used.has(key) && !zones.some(({ notes: [low, high] }) => key >= low && key <= high),
  )
  if (left.length === 0) return []
  const message = `player ${player} is split between parts ${listed(zones.map(({ id }) => id))}, and none of them takes ${keySpans(left)}: played, these light nothing. Widen "notes" of a part where that is not meant.`
  return [{ gravity: 'note', ...place, message }]
}

/** For each lamp that a part can light, the lowest and the highest key that does it, as they are played. */
function lampRanges(song: Song, part: Part): Map<LampId, readonly [Key, Key]> {
  const [low, high] = part.notes
  return new Map(
    strategyReach(part, song).map(({ lamp, key }) => {
      if (key === undefined) return [lamp, part.notes]
      const played = key - part.transpose
      return [lamp, played < low || played > high ? NO_KEYS : [played, played]]
    }),
  )
}

function keysBetween(low: Key, high: Key): Key[] {
  return Array.from({ length: Math.max(0, high - low + 1) }, (_, place) => low + place)
}
