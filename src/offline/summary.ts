import { Midi } from 'tonal'
import type { LampChange } from '../domain/lamp-state.ts'
import { hzToMidiKey } from '../domain/pitch.ts'
import type { Rig } from '../domain/rig.ts'
import type { Hz, Micros, Seconds } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { createLitTime } from './lit-time.ts'
import type { Report } from './report.ts'
import { reportLines } from './report-lines.ts'

export interface Summary {
  /** The changes of one moment, moments in order of time. */
  frame(at: Micros, changes: readonly LampChange[]): void
  /** The picture, lines joined by line feeds, none at the end. */
  finish(endAt: Micros, report: Report): string
}

const LEVELS = '▁▂▃▄▅▆▇█'
const DARK = '·'
const TICK = 10

/**
 * A picture of lamps over time for a terminal: a row a lamp, `columns` stretches of time (10 or more), the taller the
 * block the more of it lit; beside it how often the lamp was struck and its lowest and highest pitch (nearest key of twelve equal
 * steps at 440 Hz); below it a time scale and the report. Memory does not grow with the performance.
 */
export function createSummary(rig: Rig, columns: number): Summary {
  if (!Number.isInteger(columns) || columns < TICK) {
    throw new RangeError(`the picture needs ${TICK} columns or more, got ${columns}`)
  }
  const rows = rig.lamps.map((lamp) => ({
    name: lamp.name,
    // Finer than a column, so that the length need not be known beforehand.
    time: createLitTime(8 * columns),
    since: 0,
    on: false,
    strikes: 0,
    low: Infinity,
    high: 0,
  }))

  return {
    frame(at, changes) {
      for (const { index, state } of changes) {
        const row = rows[index]
        if (row === undefined) throw new RangeError(`there is no lamp ${index} in the rig`)
        if (row.on) row.time.add(row.since, at)
        row.since = at
        row.on = state.on
        if (!state.on || state.glow) continue
        if (state.strike) row.strikes++
        row.low = Math.min(row.low, state.realHz)
        row.high = Math.max(row.high, state.realHz)
      }
    },
    finish(endAt, report) {
      const wide = Math.max(...rows.map(({ name }) => name.length), 0)
      const lines = rows.map((row) => {
        if (row.on) row.time.add(row.since, endAt)
        const cells = row.time.fractions(columns, endAt).map(cell).join('')
        const notes = `${row.strikes} ${row.strikes === 1 ? 'note' : 'notes'}`
        const pitches = row.high > 0 ? `  ${pitch(row.low)} to ${pitch(row.high)}` : ''
        return `${row.name.padEnd(wide)} ${cells} ${notes}${pitches}`
      })
      const scale = `${' '.repeat(wide)} ${timeScale(columns, endAt / MICROS_PER_SECOND)}`
      return [...lines, scale, '', ...reportLines(report)].join('\n')
    },
  }
}

/** Any light at all shows. */
function cell(fraction: number): string {
  return fraction <= 0 ? DARK : LEVELS[Math.max(0, Math.ceil(fraction * 8 - 1e-6) - 1)]!
}

/** Whole keys only: a lamp below 8 Hz has no key, and says its rate. */
function pitch(hz: Hz): string {
  const key = Math.round(hzToMidiKey(hz))
  return key >= 0 && key <= 127 ? Midi.midiToNoteName(key) : `${hz.toFixed(1)} Hz`
}

/** A mark and the seconds at every tenth column, where the number fits. */
function timeScale(columns: number, seconds: Seconds): string {
  const step = (seconds * TICK) / columns
  const places = step >= 10 ? 0 : step >= 1 ? 1 : 2
  let line = ''
  for (let column = 0; column < columns; column += TICK) {
    const mark = column === 0 ? '0 s' : ((seconds * column) / columns).toFixed(places)
    line += `|${mark}`.padEnd(TICK)
  }
  return line.slice(0, columns).trimEnd()
}
