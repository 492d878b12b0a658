import type { Show } from '../../domain/show.ts'
import { counted, figure, lampsNamed, listed } from '../check/listed.ts'
import { BAND_WORDS, FLASH_RULE, SEEN_WORDS, SHARE_RULE } from '../gig-check/flash-rule.ts'
import type { NightFigures, Of } from '../gig-check/night-figures.ts'
import { guardsApart, showGuardWords } from '../sheet/guard-words.ts'
import { songsReached } from '../songs-reached.ts'
import type { Notice } from './notice.ts'
import type { SupplyPlan } from './supply-plan.ts'
import { supplyPlans } from './supply-plan.ts'
import { UNKNOWN } from './unknown.ts'
import { darkLines } from './who-darkens.ts'

/** What the venue is told: the figures as they were counted, what nobody counted, who darkens. */
export function venueNotice(show: Show, night: NightFigures): Notice {
  const { rig, players } = show
  return {
    heading: `${show.title}: for the venue`,
    sections: [
      {
        heading: 'What it is',
        lines: [
          `${counted(players.length, 'player')} and ${counted(rig.lamps.length, 'lamp')}. Each lamp is switched on and off at the pitch it sounds, and a light pickup hears it: the light is the instrument.`,
        ],
      },
      { heading: 'Flashing light', lines: [...flashLines(night), ...guardLines(show)] },
      {
        heading: 'Power',
        lines: [
          ...supplyPlans(show, night.most).flatMap(supplyLines),
          'What Lanthorn keeps within a supply is a sum of figures that somebody typed. It replaces no fuse: one that fits belongs in every supply line.',
        ],
      },
      { heading: 'Lamps and heat', lines: heatLines(show) },
      {
        heading: 'Sound',
        lines: [
          'Light pickups are amplified. The sound can be loud and come without warning; how loud has not been measured.',
        ],
      },
      { heading: 'What is not known', lines: UNKNOWN },
      { heading: 'Who makes it dark, and how', lines: darkLines(show) },
    ],
  }
}

function flashLines({ most, takes, counted: songs, uncounted }: NightFigures): string[] {
  const titles = uncounted.map(({ title }) => title)
  const rest =
    titles.length === 0 ? [] : [`Not counted, since there is no take of it: ${listed(titles, 12)}.`]
  if (!most) return ['Nothing was counted: no song has a take that could be played.', ...rest]
  return [
    `Counted from ${counted(takes, 'take')} of ${counted(songs.length, 'song')}, the most of each:`,
    `Flashes in any one second, of the field: ${inSong(most.fieldPerSecond, String)}; of one lamp: ${inSong(most.lampPerSecond, String)}. ${FLASH_RULE}.`,
    `Time with a lamp flashing at ${BAND_WORDS}: ${inSong(most.bandSeconds, seconds)}; ${SEEN_WORDS}: ${inSong(most.under60Seconds, seconds)}.`,
    `Lamps lit at one time: ${inSong(most.litShare, percent)}; lamps that go on and off in one flash of the field: ${inSong(most.flashShare, percent)}. ${SHARE_RULE}.`,
    ...rest,
  ]
}

function guardLines(show: Show): string[] {
  const apart = guardsApart(show, songsReached(show))
  return [showGuardWords(show), ...apart.map(({ song, words }) => `In ${song.title} it ${words}.`)]
}

function supplyLines({ supply, lamps, limitAmps, allAmps, allWatts, peak, mean }: SupplyPlan): string[] {
  const { id, volts, maxAmps, usable } = supply
  const drawn =
    peak && mean
      ? `counted at most ${inSong(peak, amps)}, in the mean ${inSong(mean, amps)}`
      : 'nothing counted'
  return [
    `Supply ${id}, ${figure(volts)} V: ${counted(lamps.length, 'lamp')}, ${figure(allWatts)} W and ${amps(allAmps)} with all of them lit; planned for ${amps(limitAmps)} (${figure(usable * 100)} % of ${figure(maxAmps)} A); ${drawn}.`,
  ]
}

function heatLines({ rig }: Show): string[] {
  const watts = rig.lamps.reduce((sum, lamp) => sum + lamp.watts, 0)
  const limited = rig.lamps.flatMap(({ id, heat }) =>
    heat ? [`${id} ${figure(heat.meanWatts)} W in ${figure(heat.seconds)} s`] : [],
  )
  const open = rig.lamps.filter(({ heat }) => !heat).map(({ id }) => id)
  const heaviest = rig.lamps.reduce<(typeof rig.lamps)[number] | undefined>(
    (a, b) => (a && a.watts >= b.watts ? a : b),
    undefined,
  )
  return [
    ...(heaviest
      ? [
          `${counted(rig.lamps.length, 'lamp')}, ${figure(watts)} W together while they are on; the most of one is ${figure(heaviest.watts)} W (${heaviest.id}).`,
        ]
      : ['There are no lamps.']),
    ...(limited.length === 0
      ? []
      : [
          `What they are said to bear in the mean, which is held to by a thinner duty: ${listed(limited, 12)}.`,
        ]),
    ...(open.length === 0
      ? []
      : [
          `Nobody has said what ${lampsNamed(open, 12)} ${open.length === 1 ? 'bears' : 'bear'} in the mean.`,
        ]),
    'They get hot. Keep them away from cloth, paper, leaves and hands, and let them cool before they are touched.',
  ]
}

function inSong<T>({ value, song }: Of<T>, words: (value: T) => string): string {
  return `${words(value)} (${song.title})`
}

function amps(value: number): string {
  return `${figure(value, 3)} A`
}

function seconds(value: number): string {
  return `${figure(value, 3)} s`
}

function percent(share: number): string {
  return `${figure(share * 100, 3)} %`
}
