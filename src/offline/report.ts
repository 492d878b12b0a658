import type { LampChange } from '../domain/lamp-state.ts'
import type { Rig } from '../domain/rig.ts'
import type { Cents, Micros, Seconds } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { createFlashFigures } from '../guards/flash/flash-figures.ts'
import type { FlashFigure } from '../guards/flash/flash-figures.ts'
import { rounded } from '../domain/rounded.ts'
import { createSupplyFigures } from './supply-figures.ts'
import type { SupplyFigure } from './supply-figures.ts'
import { createWarnings } from './warnings.ts'

/** What `report.json` holds. */
export interface Report {
  readonly seconds: Seconds
  readonly notesIn: number
  readonly unplaced: number
  readonly steals: number
  /** Songs that began after the first. */
  readonly switches: number
  /** Changes of lamps. */
  readonly changes: number
  /** Largest distance between what was asked and what the output does, either way. */
  readonly worstCents: Cents
  readonly supplies: Readonly<Record<string, SupplyFigure>>
  readonly flash: FlashFigure
  readonly guards: GuardCounts
  readonly warnings: readonly string[]
}

/** How often guards acted. */
export interface GuardCounts {
  readonly refused: number
  /** Lamps that went dark for another of their supply; their notes are told as refused too. */
  readonly stolen: number
  /** Times that a duty was held down, for heat. */
  readonly heldDown: number
  /** By the flash guard: rates moved up, notes tied, lamps that stayed lit above hearing. */
  readonly folded: number
  readonly tied: number
  readonly glowed: number
}

export type Counted =
  | 'notesIn'
  | 'unplaced'
  | 'steals'
  | 'switches'
  | 'refused'
  | 'stolen'
  | 'heldDown'
  | 'folded'
  | 'tied'
  | 'glowed'

export interface ReportBuilder {
  /** The changes of one moment, as admitted; moments in order of time. RangeError otherwise. */
  frame(at: Micros, changes: readonly LampChange[]): void
  count(what: Counted, n?: number): void
  warn(text: string): void
  /** The performance lasted from 0 to `endAt`. RangeError if a moment came later. */
  finish(endAt: Micros): Report
}

/** Gathers the figures of a performance as it goes by; memory does not grow with its length. */
export function createReport(rig: Rig): ReportBuilder {
  const counts: Record<Counted, number> = {
    notesIn: 0,
    unplaced: 0,
    steals: 0,
    switches: 0,
    refused: 0,
    stolen: 0,
    heldDown: 0,
    folded: 0,
    tied: 0,
    glowed: 0,
  }
  const supplies = createSupplyFigures(rig)
  const flash = createFlashFigures(rig.lamps.map(({ id }) => id))
  const warnings = createWarnings()
  let changed = 0
  let worstCents: Cents = 0
  let now: Micros = 0

  return {
    frame(at, changes) {
      if (!(at >= now)) throw new RangeError(`a moment at ${at} us comes after one at ${now} us`)
      now = at
      changed += changes.length
      for (const { state } of changes) {
        if (state.on && !state.glow) worstCents = Math.max(worstCents, Math.abs(state.cents))
      }
      supplies.frame(at, changes)
      flash.frame(at, changes)
    },
    count(what, n = 1) {
      counts[what] += n
    },
    warn: (text) => warnings.add(text),
    finish(endAt) {
      if (!(endAt >= now))
        throw new RangeError(`the end at ${endAt} us is before the last change at ${now} us`)
      const { refused, stolen, heldDown, folded, tied, glowed, ...notes } = counts
      return {
        seconds: rounded(endAt / MICROS_PER_SECOND, 6, 'seconds'),
        ...notes,
        changes: changed,
        worstCents: rounded(worstCents, 4, 'worstCents'),
        supplies: supplies.finish(endAt),
        flash: flash.finish(endAt),
        guards: { refused, stolen, heldDown, folded, tied, glowed },
        warnings: warnings.list(),
      }
    },
  }
}
