import type { Lamp, Supply } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { soundedKeys } from './key-figures.ts'
import { counted, figure, lampsNamed } from './listed.ts'
import type { Survey, SurveyedPart, SurveyedSong } from './survey.ts'

// Whole microwatts, rounded as the supply guard rounds them, so that check and stage agree at the border.
const MICROWATTS = 1e6

/**
 * Supplies that a song's lamps, lit together, would overload, and lamps that do so alone. A lit lamp counts as always on at
 * watts / volts, and maxAmps x usable is the limit (common practice, no source).
 */
export function supplyFindings(survey: Survey): CheckFinding[] {
  const { show, songs } = survey
  return show.rig.supplies.flatMap((supply, index) => [
    ...tooHeavy(show, supply, index),
    ...songs.flatMap((song) => together(show, supply, song)),
  ])
}

function limitOf({ volts, maxAmps, usable }: Supply): number {
  return Math.floor(volts * maxAmps * usable * MICROWATTS + 0.5)
}

function drawOf(lamp: Lamp): number {
  return Math.round(lamp.watts * MICROWATTS)
}

function tooHeavy({ rig, guards }: Show, supply: Supply, index: number): CheckFinding[] {
  const limit = limitOf(supply)
  const heavy = rig.lamps.filter((lamp) => lamp.supply === supply.id && drawOf(lamp) > limit)
  if (heavy.length === 0) return []
  const most = Math.max(...heavy.map(({ watts }) => watts))
  const isRefused = guards.supply.action !== 'warn'
  const isBeyondAll = most > supply.volts * supply.maxAmps
  return [
    {
      gravity: isRefused || isBeyondAll ? 'fault' : 'warning',
      ...placeAt(['rig', 'supplies', index]),
      message:
        `${lampsNamed(heavy.map(({ id }) => id))} alone ${heavy.length === 1 ? 'draws' : 'draw'} more than ${limitText(supply)}: up to ${amps(most, supply)}. ` +
        `${isRefused ? 'The guard never lets them light.' : 'The guard only counts it.'} Use a larger supply, or correct the watts.`,
    },
  ]
}

function together({ guards }: Show, supply: Supply, { place, parts }: SurveyedSong): CheckFinding[] {
  const limit = limitOf(supply)
  const isRefused = guards.supply.action !== 'warn'
  const inSong = new Map<string, Lamp>()
  let byParts = 0
  for (const surveyed of parts) {
    const lamps = surveyed.lamps
      .filter((one) => one.lamp.supply === supply.id && soundedKeys(one.figures) > 0)
      .map((one) => one.lamp)
      // Alone too heavy, and told so already: never lit.
      .filter((lamp) => !isRefused || drawOf(lamp) <= limit)
    for (const lamp of lamps) inSong.set(lamp.id, lamp)
    byParts += sum(heaviestFirst(lamps).slice(0, mostAtOnce(surveyed)))
  }
  const draws = heaviestFirst([...inSong.values()])
  const all = Math.min(sum(draws), byParts)
  if (all <= limit) return []
  const any = howManyFit(draws, limit)
  const atMost = howManyFit(draws.toReversed(), limit)
  const fits = any === atMost ? `${any} fit` : `any ${any} fit, and never more than ${atMost}`
  const message =
    `${counted(draws.length, 'lamp')} on supply ${supply.id} may draw ${amps(all / MICROWATTS, supply)} together, and ${limitText(supply)} is the limit. ` +
    (isRefused
      ? `Of these lamps ${fits} at once: the guard ${guards.supply.action === 'steal' ? 'puts out the one lit longest for the next' : 'keeps the next one dark'}. `
      : `Of these lamps ${fits} at once: the guard only counts what is over, and the supply has to bear it. `) +
    'Move lamps to another supply, or play fewer at once.'
  return [{ gravity: 'warning', ...place, message }]
}

/** Lamps of a part that can be lit at one time, where its strategy sets a bound of its own. */
function mostAtOnce({ part: { strategy }, lamps }: SurveyedPart): number {
  const { kind, width, overlapMs } = strategy
  // Lamps that answer at different times overlap without being asked to.
  const isTogether = lamps.every(({ lamp }) => lamp.delayMs === lamps[0]?.lamp.delayMs)
  return kind === 'travel' && overlapMs === 0 && typeof width === 'number' && isTogether
    ? width
    : lamps.length
}

function heaviestFirst(lamps: readonly Lamp[]): number[] {
  return lamps.map(drawOf).sort((a, b) => b - a)
}

function howManyFit(draws: readonly number[], limit: number): number {
  let drawn = 0
  let count = 0
  for (const draw of draws) {
    drawn += draw
    if (drawn > limit) break
    count++
  }
  return count
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}

function limitText(supply: Supply): string {
  const { volts, maxAmps, usable } = supply
  return `${amps(volts * maxAmps * usable, supply)} (${figure(usable * 100)} % of ${figure(maxAmps)} A)`
}

function amps(watts: number, { volts }: Supply): string {
  return `${figure(watts / volts, 3)} A`
}
