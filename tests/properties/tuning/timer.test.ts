import fc from 'fast-check'
import { expect, test } from 'vitest'
import { quantiseToTimer } from '../../../src/tuning/timer.ts'
import { checkProperty } from '../../support/property.ts'
import { TIMER_16MHZ } from '../../support/rig-outputs.ts'

const timer = fc.record({
  clockHz: fc.integer({ min: 1_000, max: 4_294_967_295 }),
  prescalers: fc.constantFrom([1, 8, 64, 256, 1024], [1, 2, 4, 8, 16, 32, 64, 128], [3, 7, 65535], [1]),
  bits: fc.constantFrom(8, 16, 24, 32),
})
const hz = fc.double({ min: 0.001, max: 65_535, noNaN: true })

test('whole numbers of any length give the same period, never further than half a tick from the wire', () => {
  checkProperty(
    'timer in integers',
    fc.property(hz, timer, (rate, spec) => {
      const quantised = quantiseToTimer(rate, spec)
      const wire = BigInt(Math.round(rate * 65536))
      const periods = spec.prescalers.map((by) => {
        const divisor = BigInt(by) * wire
        return (2n * BigInt(spec.clockHz) * 65536n + divisor) / (2n * divisor)
      })
      const place = periods.findIndex((period) => period <= 2n ** BigInt(spec.bits))
      const period = periods[place]
      const prescaler = spec.prescalers[place] ?? 0
      const fits = period !== undefined && period >= 2n
      const drive = fits && { kind: 'timer', rate: Number(wire), prescaler, top: Number(period) - 1 }
      expect(quantised?.drive ?? false).toEqual(drive)
      const error = fits ? BigInt(prescaler) * wire * period - BigInt(spec.clockHz) * 65536n : 0n
      expect(2n * (error < 0n ? -error : error) <= BigInt(prescaler) * wire).toBe(true)
    }),
    5000,
  )
})

test('a higher rate never gives a lower one', () => {
  const audible = fc.double({ min: 1, max: 20_000, noNaN: true })
  checkProperty(
    'timer monotone',
    fc.property(audible, fc.double({ min: 1, max: 1.01, noNaN: true }), (rate, ratio) => {
      const low = quantiseToTimer(rate, TIMER_16MHZ)
      const high = quantiseToTimer(rate * ratio, TIMER_16MHZ)
      expect(high?.realHz).toBeGreaterThanOrEqual(low?.realHz ?? Infinity)
    }),
    5000,
  )
})
