import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bentKeyToHz } from '../../../src/domain/bent-key.ts'
import type { Lit } from '../../../src/domain/lamp-state.ts'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { ResolveIn } from '../../../src/tuning/resolve.ts'
import { resolve } from '../../../src/tuning/resolve.ts'
import { plantLamp } from '../../support/glasshouse-lamps.ts'
import { checkProperty } from '../../support/property.ts'
import { lightOrder, litBy, resolvePart } from '../../support/resolving.ts'
import { midiOutput, TIMER_16MHZ, WIRE } from '../../support/rig-outputs.ts'
import { StageRun } from '../../support/stage-run.ts'

const BEND_RANGE = 12
const OUTPUTS = [
  WIRE,
  midiOutput({ bendRange: BEND_RANGE }),
  midiOutput({ layout: 'note-per-lamp', firstNote: 40 }),
]
const lamp = fc.record({
  lowHz: fc.double({ min: 1, max: 500, noNaN: true }),
  widths: fc.double({ min: 1, max: 100, noNaN: true }),
  minDuty: fc.double({ min: 0, max: 0.4, noNaN: true }),
  maxDuty: fc.double({ min: 0.4, max: 1, noNaN: true }),
  trimCents: fc.integer({ min: -100, max: 100 }),
})
const rig = fc.array(lamp, { minLength: 3, maxLength: 3 })

const cents = fc.integer({ min: -2400, max: 2400 })
const anyEvent: fc.Arbitrary<ResolveIn> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .record({
        lamp: fc.nat(2),
        note: fc.integer({ min: 1, max: 9 }),
        key: fc.integer({ min: -24, max: 150 }),
        channel: fc.constantFrom(1, 2),
        ratio: fc.constantFrom(1, 1.5, 3, 16),
        cents,
        strike: fc.boolean(),
        part: fc.nat(1),
      })
      .map(({ lamp: on, note, strike, part, ...voice }) => lightOrder(on, note, voice, strike, part)),
  },
  {
    weight: 1,
    arbitrary: fc.nat(2).map((on): ResolveIn => ({ kind: 'orders', orders: [{ kind: 'dark', lamp: on }] })),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(fc.nat(1), fc.constantFrom(1, 2), cents).map(([part, channel, by]): ResolveIn => ({
      kind: 'expression',
      part,
      expression: { kind: 'bend', channel, cents: by },
    })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.nat(1), fc.double({ min: 0, max: 1, noNaN: true }))
      .map(([part, duty]): ResolveIn => ({ kind: 'expression', part, expression: { kind: 'duty', duty } })),
  },
)

function start(lamps: typeof rig extends fc.Arbitrary<infer T> ? T : never, isPutDown = false) {
  const config = {
    lamps: lamps.map(({ widths, ...more }, index) => ({
      lamp: plantLamp(index, { ...more, highHz: more.lowHz * widths }),
      output: OUTPUTS[index] ?? WIRE,
    })),
    parts: [resolvePart(), resolvePart({ id: 'low', player: 'bass' })],
  }
  return { config, run: new StageRun(resolve, config, isPutDown) }
}

/** What the drive sounds, by the published formulas: fast PWM (ATmega640/1280/2560 data sheet), key and bend (MIDI 1.0). */
function driven({ drive }: Lit, bendRange: number): number {
  if (drive.kind === 'timer') return TIMER_16MHZ.clockHz / (drive.prescaler * (1 + drive.top))
  return bentKeyToHz(drive.key, drive.bend, bendRange)
}

test('what a lamp is to do is within its limits, and says truly what its drive does', () => {
  checkProperty(
    'resolve: true',
    fc.property(rig, fc.array(anyEvent, { maxLength: 30 }), (lamps, events) => {
      const { run, config } = start(lamps)
      events.forEach((event, at) => {
        for (const [index, lit] of litBy(run.at(at, event))) {
          if (!lit) continue
          const place = config.lamps[index]?.lamp
          expect(lit.hz).toBeGreaterThanOrEqual(place?.lowHz ?? Infinity)
          expect(lit.hz).toBeLessThanOrEqual(place?.highHz ?? 0)
          expect(lit.duty).toBeGreaterThanOrEqual(place?.minDuty ?? Infinity)
          expect(lit.duty).toBeLessThanOrEqual(place?.maxDuty ?? 0)
          expect(lit.realHz).toBe(driven(lit, BEND_RANGE))
          expect(lit.cents).toBeCloseTo(centsBetween(lit.realHz, lit.hz), 9)
        }
      })
    }),
    2000,
  )
})

test('put down as JSON and taken up after every step, it says the same', () => {
  checkProperty(
    'resolve: round trip',
    fc.property(rig, fc.array(anyEvent, { maxLength: 30 }), (lamps, events) => {
      const straight = start(lamps).run
      const putDown = start(lamps, true).run
      events.forEach((event, at) => expect(putDown.at(at, event)).toEqual(straight.at(at, event)))
    }),
  )
})
