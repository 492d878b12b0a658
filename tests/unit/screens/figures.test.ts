import { describe, expect, it } from 'vitest'
import {
  ago,
  cents,
  hertz,
  many,
  percent,
  placeOf,
  playLength,
  tempo,
} from '../../../app/screens/wording/figures.ts'

describe('figures', () => {
  it('write Hz to two decimals, to one from a thousand on', () => {
    expect([27.5, 439.9956, 999.994, 1000, 4186.009].map(hertz)).toEqual([
      '27.50',
      '440.00',
      '999.99',
      '1000.0',
      '4186.0',
    ])
  })

  it('write cents with a sign, and no sign for what rounds to nothing', () => {
    expect([0, -0.0173, 0.004, -0.004, 12.49, -1200].map(cents)).toEqual([
      '0.00',
      '\u22120.02',
      '0.00',
      '0.00',
      '+12.5',
      '\u22121200.0',
    ])
  })

  it('write a duty in per cent, a decimal only where there is one', () => {
    expect([0, 0.05, 0.375, 0.5, 1].map(percent)).toEqual(['0 %', '5 %', '37.5 %', '50 %', '100 %'])
  })

  it('write minutes as a clock shows them', () => {
    expect([0, 4.5, 7.25, 0.01, 59.999, 62].map(playLength)).toEqual([
      '0:00',
      '4:30',
      '7:15',
      '0:01',
      '1:00:00',
      '1:02:00',
    ])
  })

  it('write a tempo without idle zeros', () => {
    expect([120, 97.0625, 82.5, 100].map(tempo)).toEqual(['120', '97.0625', '82.5', '100'])
  })

  it('say places in words up to the tenth, then in figures with the right ending', () => {
    expect([placeOf(2, 5), placeOf(0, 1), placeOf(10, 23), placeOf(20, 23), placeOf(21, 122)]).toEqual([
      'third of five',
      'first of one',
      '11th of 23',
      '21st of 23',
      '22nd of 122',
    ])
    expect([placeOf(110, 130), placeOf(111, 130), placeOf(112, 130)]).toEqual([
      '111th of 130',
      '112th of 130',
      '113th of 130',
    ])
  })

  it('count things and time', () => {
    expect([many(1, 'lamp'), many(3, 'lamp'), many(24, 'lamp'), many(0, 'lamp')]).toEqual([
      'one lamp',
      'three lamps',
      '24 lamps',
      'no lamps',
    ])
    expect([-5, 999_999, 1_000_000, 3_900_000, 99e6, 120e6].map(ago)).toEqual([
      'now',
      'now',
      '1 s ago',
      '3 s ago',
      '99 s ago',
      '2 min ago',
    ])
  })
})
