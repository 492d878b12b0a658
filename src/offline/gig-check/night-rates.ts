import type { LampId } from '../../domain/ids.ts'
import type { Hz, Seconds } from '../../domain/units.ts'
import type { LampFlashFigure } from '../../guards/flash/flash-figures.ts'
import type { GigCheck } from './gig-check.ts'
import { countedTakes } from './gig-check.ts'

/** What each lamp was lit at over all takes that were counted, longest first; in the order of the reports. */
export function nightRates({ songs }: GigCheck): Readonly<Record<LampId, LampFlashFigure>> {
  const lamps = songs
    .flatMap(({ takes }) => countedTakes(takes))
    .flatMap(({ report }) => Object.entries(report.flash.lamps))
  const merged = new Map<LampId, LampFlashFigure>()
  for (const [id, one] of lamps) {
    const before = merged.get(id)
    merged.set(id, before ? together(before, one) : one)
  }
  return Object.fromEntries(merged)
}

function together(a: LampFlashFigure, b: LampFlashFigure): LampFlashFigure {
  return {
    perSecondMax: Math.max(a.perSecondMax, b.perSecondMax),
    bandSeconds: a.bandSeconds + b.bandSeconds,
    under60Seconds: a.under60Seconds + b.under60Seconds,
    litSeconds: a.litSeconds + b.litSeconds,
    rates: ratesOf([...a.rates, ...b.rates]),
  }
}

function ratesOf(all: LampFlashFigure['rates']): LampFlashFigure['rates'] {
  const seconds = new Map<Hz, Seconds>()
  for (const one of all) seconds.set(one.hz, (seconds.get(one.hz) ?? 0) + one.seconds)
  return [...seconds]
    .map(([hz, time]) => ({ hz, seconds: time }))
    .sort((a, b) => b.seconds - a.seconds || a.hz - b.hz)
}
