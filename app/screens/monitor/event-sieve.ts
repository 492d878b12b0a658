import type { MonitorEvent } from '../../../src/contract/from-engine.ts'

export type Way = MonitorEvent['way']

/** In the order an event takes. */
export const WAYS: readonly Way[] = ['in', 'light', 'out', 'word']
export const EVERY_SOURCE = ''

export interface Sieve {
  readonly ways: ReadonlySet<Way>
  /** A player, an output, a lamp or a stage; `EVERY_SOURCE`. */
  readonly source: string
  /** Part of the text or the bytes, capitals or not; empty: any. */
  readonly text: string
}

export function sifted(
  events: readonly MonitorEvent[],
  { ways, source, text }: Sieve,
): readonly MonitorEvent[] {
  if (ways.size === WAYS.length && source === EVERY_SOURCE && text === '') return events
  const wanted = text.toLowerCase()
  return events.filter(
    (event) =>
      ways.has(event.way) &&
      (source === EVERY_SOURCE || event.source === source) &&
      (wanted === '' || `${event.text}\n${event.bytes ?? ''}`.toLowerCase().includes(wanted)),
  )
}

/** Every source met, in order of the alphabet. */
export function sourcesOf(events: readonly MonitorEvent[]): string[] {
  return [...new Set(events.map(({ source }) => source))].toSorted((a, b) => a.localeCompare(b))
}

/** The events after `last`, told by identity; all where it has gone out of the list, or there is none. */
export function eventsAfter(
  events: readonly MonitorEvent[],
  last: MonitorEvent | undefined,
): readonly MonitorEvent[] {
  const place = last === undefined ? -1 : events.lastIndexOf(last)
  return place < 0 ? events : events.slice(place + 1)
}
