import type { Show } from '../../domain/show.ts'
import { counted, figure } from '../check/listed.ts'
import type { MostFigures, NightFigures } from '../gig-check/night-figures.ts'
import type { Notice } from './notice.ts'

/** What the audience reads before it comes in: short and plain, with the show's own figures as far as they were counted. */
export function audienceNotice(show: Show, night: NightFigures): Notice {
  return {
    heading: 'Flashing light and loud sound',
    sections: [
      {
        heading: '',
        lines: [
          `${show.title}: the light of ${counted(show.rig.lamps.length, 'lamp')} flashes all through the performance. It is what makes the sound.`,
          'Flashing light can trigger seizures in people with photosensitive epilepsy, also in people who never had one.',
          ...howMuch(night),
        ],
      },
      {
        heading: 'If that may concern you',
        lines: [
          'Sit far from the lamps and near a way out. Leave whenever you like: nobody minds.',
          'Tell anybody of the crew, before or during the performance: they can make it dark at once.',
        ],
      },
      {
        heading: 'Sound and lamps',
        lines: [
          'The sound can be loud and come without warning. Protect your hearing.',
          'The lamps are bright and get hot: do not look into them from close by, and do not touch them.',
        ],
      },
    ],
  }
}

function howMuch({ most, uncounted }: NightFigures): string[] {
  if (!most) return ['How often it flashes has not been counted.']
  const rest =
    uncounted.length === 0
      ? []
      : [
          `${counted(uncounted.length, 'piece')} of the evening ${uncounted.length === 1 ? 'has' : 'have'} not been counted.`,
        ]
  return [`We counted ${countedWords(most)}.`, ...rest]
}

function countedWords({ perSecond, bandSeconds }: MostFigures): string {
  const often = `up to ${counted(perSecond.value, 'flash', 'flashes')} in one second`
  if (bandSeconds.value === 0) return often
  return `${often}, and up to ${figure(bandSeconds.value, 2)} seconds in one piece at the rates that are of most concern, 3 to 30 flashes a second`
}
