/** A value as JSON has it. */
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json }
export type RawShow = { [field: string]: Json }

/** The lamps of `glasshouse`, in the order they hang. */
export const GLASSHOUSE_LAMPS = ['fern', 'moss', 'reed', 'sedge'] as const

/**
 * A small valid show as it would stand in a file, everything with a default left out: four lamps on one serial
 * lamp box, one keyboard, one song. `overrides` replace whole top-level fields. A fresh object each time.
 */
export function glasshouse(overrides: RawShow = {}): RawShow {
  return {
    format: 'lanthorn-show',
    version: 1,
    title: 'Glasshouse',
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
      outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
    },
    players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        parts: [
          { id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind: 'lowest-free' } },
        ],
      },
    ],
    ...overrides,
  }
}

/** The same, as the text of a show file. */
export function glasshouseText(overrides: RawShow = {}): string {
  return `${JSON.stringify(glasshouse(overrides), null, 2)}\n`
}
