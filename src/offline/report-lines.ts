import { SEEN_STEADY_HZ } from '../domain/flash-guard.ts'
import { CONCERN_BAND } from '../domain/pulse-rate.ts'
import type { Report } from './report.ts'

/** The report's main figures as lines a person reads. */
export function reportLines(report: Report): readonly string[] {
  const { flash, guards, supplies, switches, warnings } = report
  const [low, high] = CONCERN_BAND
  return [
    `${report.seconds.toFixed(1)} s, ${report.notesIn} notes in, ${report.unplaced} without a lamp, ` +
      `${report.steals} stolen, ${report.changes} lamp changes`,
    ...(switches > 0 ? [`${switches} ${switches === 1 ? 'change' : 'changes'} of song`] : []),
    `tuning: at most ${report.worstCents.toFixed(2)} cents off`,
    ...Object.entries(supplies).map(
      ([id, { peakAmps, meanAmps }]) =>
        `supply ${id}: peak ${peakAmps.toFixed(2)} A, mean ${meanAmps.toFixed(2)} A`,
    ),
    `flashes: at most ${flash.perSecondMax} in a second, ${flash.bandSeconds.toFixed(1)} s between ${low} and ${high} Hz, ` +
      `${flash.under60Seconds.toFixed(1)} s under ${SEEN_STEADY_HZ} Hz; at most ${Math.round(100 * flash.litShareMax)} % of the lamps lit at once`,
    `refused by the guards: ${guards.refused}${guards.stolen > 0 ? `, put out for others: ${guards.stolen}` : ''}${guards.heldDown > 0 ? `, held down for heat: ${guards.heldDown}` : ''}`,
    ...warnings.map((text) => `warning: ${text}`),
  ]
}
