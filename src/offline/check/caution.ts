import { EVERY_CAUTION } from '../../domain/cautions.ts'
import type { CheckFinding } from './finding.ts'

/** What is said of every show, whatever else there is to say. */
export function cautionFindings(): CheckFinding[] {
  const shorts = EVERY_CAUTION.filter(({ subject }) => subject !== 'codes' && subject !== 'program').map(
    ({ short }) => short,
  )
  return [
    {
      gravity: 'note',
      where: 'every show',
      message:
        `${shorts.join(' ')} Lanthorn counts what it can count, and that is no verdict on a show: brightness, area, distance and people it does not ` +
        'know. Local codes and licensed practice decide.',
    },
  ]
}
