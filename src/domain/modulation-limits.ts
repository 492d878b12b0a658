import type { Hz } from './units.ts'

/** How much light of a rate may vary by one of the standard's practices: in each stretch of rates so many percent for every Hz. */
export interface ModulationLine {
  readonly name: string
  /** In order of rate, without gaps; the first from 0, the last with its end. */
  readonly stretches: readonly { readonly to: Hz; readonly percentPerHz: number }[]
}

/**
 * IEEE Std 1789-2015, recommended practices 1 and 2 for percent modulation against frequency (second-hand). Where a line ends the practice knows no limit; it is a
 * practice for lighting that is to be seen as steady, written for rooms and for hours.
 */
export const MODULATION_LINES: readonly [ModulationLine, ModulationLine] = [
  {
    name: 'IEEE 1789-2015, recommended practice 1',
    stretches: [
      { to: 90, percentPerHz: 0.025 },
      { to: 1250, percentPerHz: 0.08 },
    ],
  },
  {
    name: 'IEEE 1789-2015, recommended practice 2',
    stretches: [
      { to: 90, percentPerHz: 0.01 },
      { to: 3000, percentPerHz: 0.0333 },
    ],
  },
]

/** The limit in percent at a rate; undefined above the rate where the line ends. RangeError for a rate that is none. */
export function modulationLimit({ stretches }: ModulationLine, hz: Hz): number | undefined {
  if (!(hz > 0 && hz < Infinity)) throw new RangeError(`the rate must be over 0 Hz, got ${hz}`)
  const last = stretches.length - 1
  const stretch = stretches.find(({ to }, place) => hz < to || (place === last && hz === to))
  return stretch && stretch.percentPerHz * hz
}

/** Where the line ends. */
export function endOfLine({ stretches }: ModulationLine): Hz {
  return stretches.at(-1)?.to ?? 0
}

/** "0.025 × f % under 90 Hz, 0.08 × f % from 90 to 1250 Hz" */
export function modulationFormula({ stretches }: ModulationLine): string {
  return stretches
    .map(({ to, percentPerHz }, place) => {
      const from = stretches[place - 1]?.to
      return `${percentPerHz} × f % ${from === undefined ? `under ${to} Hz` : `from ${from} to ${to} Hz`}`
    })
    .join(', ')
}

/**
 * Percent modulation of light between two levels (IEEE Std 1789-2015, second-hand; Michelson contrast): 100 x (most - least) / (most + least), 0 to 100. Levels in any
 * unit, not below 0, not both 0; RangeError otherwise.
 */
export function modulationPercent(most: number, least: number): number {
  if (!(least >= 0 && most >= least && most > 0 && most < Infinity))
    throw new RangeError(
      `light must be from 0 up, and the most not below the least, got ${most} and ${least}`,
    )
  return (100 * (most - least)) / (most + least)
}
