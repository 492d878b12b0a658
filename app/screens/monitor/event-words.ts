import type { MonitorEvent } from '../../../src/contract/from-engine.ts'
import type { Micros } from '../../../src/domain/units.ts'

/** Seconds with three decimals since `first`: `0.000`, `12.345`. */
export function eventTime(at: Micros, first: Micros): string {
  return (Math.trunc((at - first) / 1000) / 1000).toFixed(3)
}

const HEADS = ['time', 'way', 'source', 'text', 'bytes']

/** As a table for other programs: fields parted by tabs, a line each, heads first. */
export function tabbed(events: readonly MonitorEvent[], first: Micros): string {
  const lines = events.map(({ at, way, source, text, bytes }) =>
    [eventTime(at, first), way, source, text, bytes ?? ''].map(plain).join('\t'),
  )
  return `${[HEADS.join('\t'), ...lines].join('\n')}\n`
}

function plain(field: string): string {
  return field.replace(/[\t\r\n]+/g, ' ')
}
