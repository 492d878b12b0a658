import type { Report } from './report.ts'

/** The report's main figures as lines a person reads. */
export function reportLines(report: Report): readonly string[] {
  const { flash, guards, supplies, switches, warnings } = report
  return [
    `${report.seconds.toFixed(1)} s, ${report.notesIn} notes in, ${report.unplaced} without a lamp, ` +
      `${report.steals} stolen, ${report.changes} lamp changes`,
    ...(switches > 0 ? [`${switches} ${switches === 1 ? 'change' : 'changes'} of song`] : []),
    `tuning: at most ${report.worstCents.toFixed(2)} cents off`,
    ...Object.entries(supplies).map(
      ([id, { peakAmps, meanAmps }]) =>
        `supply ${id}: peak ${peakAmps.toFixed(2)} A, mean ${meanAmps.toFixed(2)} A`,
    ),
    `flashes: at most ${flash.perSecondMax} in a second, ${flash.bandSeconds.toFixed(1)} s between 3 and 30 Hz`,
    `refused by the guards: ${guards.refused}${guards.stolen > 0 ? `, put out for others: ${guards.stolen}` : ''}${guards.heldDown > 0 ? `, held down for heat: ${guards.heldDown}` : ''}`,
    ...warnings.map((text) => `warning: ${text}`),
  ]
}
