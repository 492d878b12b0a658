import type { CheckFinding } from './finding.ts'

/** What is said of every show, whatever else there is to say. */
export function cautionFindings(): CheckFinding[] {
  return [
    {
      gravity: 'note',
      where: 'every show',
      message:
        'flashing light can trigger photosensitive seizures, lamps and supplies can burn, and the sound can be loud. Lanthorn counts what it can count, ' +
        'and that is no verdict on a show: brightness, area, distance and people it does not know. Local codes and licensed practice decide.',
    },
  ]
}
