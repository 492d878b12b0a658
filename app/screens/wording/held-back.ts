import type { PlayerActivity } from '../../../src/contract/from-engine.ts'
import type { StringsCost } from '../../../src/domain/strings-cost.ts'

/** Microseconds as milliseconds, to a tenth where there is one: `20 ms`, `12.4 ms`. */
export function millis(micros: number): string {
  return `${Number((micros / 1000).toFixed(1))} ms`
}

/** How long notes were kept back: `held back 20 ms`, `held back 12.4 ms, 20 ms at worst`; nothing where none was. */
export function heldBackWords(heldBack: PlayerActivity['heldBack']): string {
  if (!heldBack) return ''
  const mean = millis(heldBack.mean)
  const worst = millis(heldBack.max)
  return `held back ${mean}${worst === mean ? '' : `, ${worst} at worst`}`
}

/** What conditioning a string instrument costs at worst, as it is set. */
export function stringsCostWords({ onset, end, bend, evenBend }: StringsCost): string {
  const bends =
    bend === 0
      ? 'bends are not'
      : `bends up to ${bend} ms${evenBend > 0 ? `, ${evenBend} ms where they move evenly` : ''}`
  return `Set like this, notes are held back ${onset} ms, ends up to ${end} ms, ${bends}.`
}

/** What it has cost so far. */
export function heldBackSoFar(heldBack: PlayerActivity['heldBack']): string {
  if (!heldBack) return 'No note has been held back yet.'
  const { count, mean, max } = heldBack
  return `So far ${count} ${count === 1 ? 'note' : 'notes'}: ${millis(mean)} on average, ${millis(max)} at worst.`
}
