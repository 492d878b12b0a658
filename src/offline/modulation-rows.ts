import type { LampId } from '../domain/ids.ts'
import { MODULATION_LINES, modulationLimit, modulationPercent } from '../domain/modulation-limits.ts'
import type { Hz, Seconds } from '../domain/units.ts'
import type { FlashFigure } from '../guards/flash/flash-figures.ts'

/** One lamp at one of its rates, against both of `MODULATION_LINES`. */
export interface ModulationRow {
  readonly lamp: LampId
  readonly name: string
  /** To a twelfth of an octave. */
  readonly hz: Hz
  readonly seconds: Seconds
  readonly percent: number
  /** By line; undefined: above where it ends. */
  readonly limits: readonly [number | undefined, number | undefined]
}

/** Light that is switched on and off goes from all to nothing, whatever its duty. */
export const OUR_MODULATION = modulationPercent(1, 0)

/** What the picture shows, as rows: lamps in the order of the figure, each with the rate that it was lit at longest first. */
export function modulationRows(
  { lamps }: Pick<FlashFigure, 'lamps'>,
  names: ReadonlyMap<LampId, string>,
): readonly ModulationRow[] {
  const [one, two] = MODULATION_LINES
  return Object.entries(lamps).flatMap(([lamp, { rates }]) =>
    rates.map(({ hz, seconds }) => ({
      lamp,
      name: names.get(lamp) ?? lamp,
      hz,
      seconds,
      percent: OUR_MODULATION,
      limits: [modulationLimit(one, hz), modulationLimit(two, hz)] as const,
    })),
  )
}

/** The words that belong under the picture, and beside the rows. */
export function modulationCaption(): string {
  return (
    `All marks are at ${OUR_MODULATION} %: light that is switched on and off goes from all to nothing, and percent modulation, ` +
    '(most - least) / (most + least), is 100 % at any duty. Rates are to a twelfth of an octave; the larger a mark, the longer its lamp was lit so. ' +
    'Notes that come and go slower than their rate flash besides, and are not in this picture. The lines are for light that is to be seen as steady ' +
    '(IEEE Std 1789-2015, cited second-hand). Brightness, distance, area and people are not known here: it is a picture of rates, no judgement.'
  )
}
