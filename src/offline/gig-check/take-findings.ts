import { FLASHES_ALLOWED } from '../../domain/flash-guard.ts'
import type { Supply } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { gravestFirst } from '../check/condense.ts'
import type { CheckFinding, FindingPlace, Gravity } from '../check/finding.ts'
import { counted, figure, listed } from '../check/listed.ts'
import { BAND_WORDS, FLASH_RULE, SEEN_WORDS, SHARE_OF_VIEW, SHARE_RULE } from './flash-rule.ts'
import { flashiestLamp, longestInBand } from './lamp-figures.ts'
import type { CountedTake, TakeResult } from './take-result.ts'

/** A pitch farther off than this is told as a warning, as for the keys of a part. */
const FAR_CENTS = 5
const MOST_WORDS = 3

type Told = readonly [Gravity, string]

/** What was counted in a take, worst first; of one that could not be counted why not. */
export function takeFindings(show: Show, result: TakeResult): CheckFinding[] {
  const place = placeOf(show, result)
  if (!result.ok) return [{ gravity: 'fault', ...place, message: result.why }]
  const told = [
    ...aboutTake(result),
    ...flashes(result),
    ...supplies(show, result),
    ...notes(result),
    ...pitch(result),
    ...guards(result),
    ...besides(result),
  ]
  return gravestFirst(told.map(([gravity, message]) => ({ gravity, ...place, message })))
}

function placeOf(show: Show, { song: id, take }: TakeResult): FindingPlace {
  const song = show.songs.findIndex((one) => one.id === id)
  const at = show.songs[song]?.takes.indexOf(take) ?? -1
  const path = ['songs', song, ...(at < 0 ? [] : ['takes', at])]
  return { where: `song ${id}, take ${take}`, path }
}

function aboutTake({ torn, strangers, report }: CountedTake): Told[] {
  const first = torn.slice(0, MOST_WORDS).join('. ')
  const more = torn.length > MOST_WORDS ? ` And ${torn.length - MOST_WORDS} more.` : ''
  const who = strangers.map(({ player, notes: count }) => `${player} (${counted(count, 'note')})`)
  return [
    ...(torn.length === 0
      ? []
      : [
          [
            'warning',
            `the file could not be read as it stands, so this may not be all of the take: ${first}.${more} Record or export it again.`,
          ] as const,
        ]),
    ...(strangers.length === 0
      ? []
      : [
          [
            'warning',
            `${listed(who)} ${strangers.length === 1 ? 'plays' : 'play'} in it and ${strangers.length === 1 ? 'has' : 'have'} no part in this song: is it a take of another?`,
          ] as const,
        ]),
    ...(report.switches === 0
      ? []
      : [
          [
            'note',
            `it changes songs, ${counted(report.switches, 'time')}: what is counted is of those songs as well`,
          ] as const,
        ]),
  ]
}

function flashes({ report: { flash, seconds } }: CountedTake): Told[] {
  const lamp = flashiestLamp(flash)
  const alone = lamp ? `lamp ${lamp.id} alone up to ${lamp.perSecondMax}` : 'no lamp alone'
  const band = longestInBand(flash).map(({ id, bandSeconds }) => `${id} ${figure(bandSeconds, 3)} s`)
  const isOften = flash.perSecondMax > FLASHES_ALLOWED
  return [
    ...(isOften
      ? [
          [
            'warning',
            `the field flashes up to ${flash.fieldPerSecondMax} times in one second, ${alone}. ${FLASH_RULE}.`,
          ] as const,
        ]
      : []),
    ...(flash.bandSeconds > 0
      ? [
          [
            'warning',
            `for ${figure(flash.bandSeconds, 3)} of ${figure(seconds, 3)} s a lamp flashes at ${BAND_WORDS}${band.length === 0 ? '' : `: ${listed(band, 4)}`}.`,
          ] as const,
        ]
      : []),
    ...(isOften && flash.flashShareMax > SHARE_OF_VIEW
      ? [
          [
            'warning',
            `up to ${percent(flash.flashShareMax)} of the lamps go on and off in one flash of the field. ${SHARE_RULE}.`,
          ] as const,
        ]
      : []),
    ...(flash.under60Seconds > 0
      ? [
          [
            'note',
            `for ${figure(flash.under60Seconds, 3)} of ${figure(seconds, 3)} s a lamp flashes, or is struck again and again, ${SEEN_WORDS}.`,
          ] as const,
        ]
      : []),
  ]
}

function supplies({ rig }: Show, { report }: CountedTake): Told[] {
  return rig.supplies.flatMap((supply): Told[] => {
    const drawn = report.supplies[supply.id]
    if (!drawn || drawn.peakAmps <= limitOf(supply)) return []
    const { id, maxAmps, usable } = supply
    const beyond = drawn.peakAmps > maxAmps ? `, and of the ${figure(maxAmps)} A that it can give` : ''
    const message = `supply ${id} is asked for up to ${figure(drawn.peakAmps, 3)} A, past its limit of ${figure(limitOf(supply), 3)} A (${figure(usable * 100)} % of ${figure(maxAmps)} A)${beyond}; in the mean for ${figure(drawn.meanAmps, 3)} A.`
    return [[drawn.peakAmps > maxAmps ? 'fault' : 'warning', message]]
  })
}

/** What a supply is to give at most, with a rounding error's worth of room. */
function limitOf({ maxAmps, usable }: Supply): number {
  return maxAmps * usable + 1e-6
}

function notes({ report: { notesIn, unplaced }, dropped }: CountedTake): Told[] {
  const lost = unplaced - dropped
  const meant =
    dropped === 0
      ? ''
      : ` ${counted(dropped, 'bounce, crosstalk or ghost', 'bounces, crosstalk or ghosts')} ${dropped === 1 ? 'is' : 'are'} dropped besides, as pads and strings are set up.`
  if (lost > 0) return [['warning', `${lost} of ${counted(notesIn, 'note')} never light a lamp.${meant}`]]
  if (dropped === 0) return []
  return [['note', `${meant.trim()} All other notes light a lamp.`]]
}

function pitch({ report: { worstCents } }: CountedTake): Told[] {
  if (worstCents <= FAR_CENTS) return []
  return [['warning', `a lamp is up to ${figure(worstCents, 3)} cents off what was asked.`]]
}

function guards({ report: { guards: did, warnings } }: CountedTake): Told[] {
  const refusals = warnings.filter((text) => text.startsWith('part ') && text.includes(' not lit, '))
  const refused = refusals.slice(0, MOST_WORDS).join('; ')
  const told: readonly (readonly [number, Gravity, string])[] = [
    [
      did.refused,
      'warning',
      `${counted(did.refused, 'time')} a lamp that a part asked for was not lit: ${refused}${refusals.length > MOST_WORDS ? '; and others' : ''}.`,
    ],
    [
      did.stolen,
      'warning',
      `${counted(did.stolen, 'time')} a lamp went dark for another of its supply, in the middle of its note.`,
    ],
    [
      did.tied,
      'note',
      `the flash guard tied notes ${counted(did.tied, 'time')}: they sound on past their end.`,
    ],
    [
      did.folded,
      'note',
      `the flash guard moved a rate up by octaves ${counted(did.folded, 'time')}: those notes sound higher than they were played.`,
    ],
    [
      did.glowed,
      'note',
      `the flash guard kept a lamp lit after its note ${counted(did.glowed, 'time')}: it draws power and gets warm all the while.`,
    ],
    [
      did.heldDown,
      'note',
      `${counted(did.heldDown, 'time')} a lamp came to the power that it bears in the mean, and its duty was held down.`,
    ],
  ]
  return told.flatMap(([times, gravity, message]): Told[] => (times > 0 ? [[gravity, message]] : []))
}

/** What the render warns of and nothing above tells. */
function besides({ report: { warnings }, torn }: CountedTake): Told[] {
  const known = / not lit, |^supply |duty held down|\bdropped \(/
  const rest = warnings.filter((text) => !known.test(text) && !torn.includes(text))
  if (rest.length === 0) return []
  const more = rest.length > MOST_WORDS ? `; and ${rest.length - MOST_WORDS} more` : ''
  return [['note', `besides: ${rest.slice(0, MOST_WORDS).join('; ')}${more}.`]]
}

function percent(share: number): string {
  return `${figure(share * 100, 3)} %`
}
