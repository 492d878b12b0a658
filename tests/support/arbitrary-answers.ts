import fc from 'fast-check'
import type { FirstStartAnswers } from '../../src/contract/to-host.ts'

const port = fc.constantFrom('', '  ', 'Keybed', 'Pads', 'Lamp box', 'Überkabel: 2 "x"', 'x'.repeat(200))

/** Whatever a first start may be answered with. */
export function arbitraryAnswers(): fc.Arbitrary<FirstStartAnswers> {
  const player = fc.record({
    kind: fc.constantFrom('keys', 'pads', 'strings'),
    port,
    channels: fc.array(fc.integer({ min: 1, max: 16 }), { maxLength: 16 }),
  })
  const wiring: fc.Arbitrary<FirstStartAnswers['wiring']> = fc.oneof(
    fc.record({ kind: fc.constant('serial' as const), port }),
    fc.record({
      kind: fc.constant('midi' as const),
      port,
      layout: fc.constantFrom('channel-per-lamp', 'mpe', 'note-per-lamp'),
    }),
    fc.record({ kind: fc.constant('virtual' as const) }),
  )
  const above = (max: number) => fc.double({ min: 0, max, minExcluded: true, noNaN: true })
  return fc.record({
    title: fc
      .string({ minLength: 1, maxLength: 200, unit: 'grapheme' })
      .filter(({ length }) => length <= 200),
    players: fc.array(player, { minLength: 1, maxLength: 16 }),
    lamps: fc.integer({ min: 1, max: 64 }),
    wiring,
    supply: fc.oneof(
      fc.constant({ volts: 12, maxAmps: 5, watts: 10 }),
      fc.record({ volts: above(1000), maxAmps: above(10_000), watts: above(100_000) }),
    ),
  })
}
