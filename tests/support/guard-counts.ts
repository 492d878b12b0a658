import type { FromEngine } from '../../src/contract/from-engine.ts'

type Guards = Omit<Extract<FromEngine, { type: 'guards' }>, 'v'>

/** What the engine says of the guards of a song in which nothing has happened yet, but for what is given. */
export function guardCounts(
  flash: Partial<Guards['flash']> = {},
  supply: Partial<Guards['supply']> = {},
  at = 3_000_000,
): Guards {
  return {
    type: 'guards',
    at,
    flash: {
      action: 'warn',
      lastSecond: 0,
      perSecondMax: 0,
      bandSeconds: 0,
      under60Seconds: 0,
      litShare: 0,
      litShareMax: 0,
      lamps: [],
      folded: 0,
      tied: 0,
      glowed: 0,
      ...flash,
    },
    supply: {
      action: 'refuse',
      refused: 0,
      stolen: 0,
      exceeded: 0,
      heldDown: 0,
      supplies: [{ id: 'bench', limitAmps: 2, amps: 1.68, peakAmps: 1.9, meanAmps: 0.6 }],
      ...supply,
    },
  }
}
