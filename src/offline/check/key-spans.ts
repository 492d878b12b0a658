import { Midi } from 'tonal'
import type { Player } from '../../domain/player.ts'
import { padName } from '../../domain/player.ts'
import type { Key } from '../../domain/units.ts'

const MOST_SPANS = 4

/** A key 0..127 by name and number, "A4 (69)"; middle C is C4. */
export function keyName(key: Key): string {
  return `${Midi.midiToNoteName(key, { sharps: true })} (${key})`
}

/** A key of a player, by its pad's name where it has one: "Snare, D2 (38)". */
export function playedKeyName(player: Player | undefined, key: Key): string {
  const pad = padName(player, key)
  return pad === undefined ? keyName(key) : `${pad}, ${keyName(key)}`
}

/** Rising keys as the unbroken spans they make: "C-1 (0) to B0 (23), A4 (69)". Of more than four spans, how many besides. */
export function keySpans(keys: readonly Key[]): string {
  const spans: [Key, Key][] = []
  for (const key of keys) {
    const last = spans.at(-1)
    if (last && last[1] + 1 === key) last[1] = key
    else spans.push([key, key])
  }
  const texts = spans
    .slice(0, MOST_SPANS)
    .map(([low, high]) => (low === high ? keyName(low) : `${keyName(low)} to ${keyName(high)}`))
  const more = spans.length - texts.length
  return texts.join(', ') + (more > 0 ? ` and ${more} more ${more === 1 ? 'span' : 'spans'}` : '')
}
