import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { matchPort } from '../../../../app/engine/ports/port-match.ts'
import { numberFault, readNumber, stepped } from '../../../../app/screens/elements/number-text.ts'
import { channelText, readChannels } from '../../../../app/screens/rig/channel-text.ts'
import { planPlace, planScale } from '../../../../app/screens/rig/plan-scale.ts'
import { freePlant } from '../../../../app/screens/rig/plant-names.ts'
import { offeredPlaces, serialPath } from '../../../../app/screens/rig/port-names.ts'
import { prescalerFault, readPrescalers } from '../../../../app/screens/rig/prescaler-text.ts'
import { isOver, loadText, supplyLoad } from '../../../../app/screens/rig/supply-load.ts'
import { demoShow } from '../../../support/demo.ts'
import { checkProperty } from '../../../support/property.ts'

describe('numbers as they are typed', () => {
  test.each([
    ['12', 12],
    [' -3.5 ', -3.5],
    ['0,6', 0.6],
    ['.5', 0.5],
    ['5.', 5],
    ['1e3', 1000],
    ['−2', -2],
    ['', null],
    ['1.2.3', null],
    ['12 V', null],
    ['Infinity', null],
  ])('%j is %j', (text, value) => expect(readNumber(text)).toBe(value))

  const whole = { min: 0, max: 255, whole: true, optional: false }
  test.each([
    ['256', whole, 'found 256; expected a whole number from 0 to 255'],
    ['1.5', whole, 'found 1.5; expected a whole number from 0 to 255'],
    ['', whole, 'nothing is entered; expected a whole number from 0 to 255'],
    ['255', whole, ''],
    ['', { ...whole, optional: true }, ''],
    [
      '0',
      { min: -Infinity, max: 1, above: 0, whole: false, optional: false },
      'found 0; expected a number above 0 and up to 1',
    ],
  ])('%j of %j: %j', (text, range, fault) => expect(numberFault(text, range)).toBe(fault))

  test('steps leave no crumbs and stay within', () => {
    const range = { min: 0, max: 1, whole: false, optional: false }
    expect(stepped(0.2, 0.1, range)).toBe(0.3)
    expect(stepped(0.95, 0.1, range)).toBe(1)
    expect(stepped(0.05, -0.05, { ...range, min: -Infinity, above: 0 })).toBe(0.05)
    expect(stepped(null, 1, range)).toBe(1)
  })
})

describe('channels', () => {
  test.each([
    ['1, 2', [1, 2]],
    ['1 to 4, 10', [1, 2, 3, 4, 10]],
    ['10-12', [10, 11, 12]],
    ['3 1 2', [1, 2, 3]],
    ['ALL', Array.from({ length: 16 }, (_, at) => at + 1)],
    ['0', null],
    ['17', null],
    ['4-1', null],
    ['one', null],
    ['', null],
  ])('%j is %j', (text, channels) => expect(readChannels(text)).toEqual(channels))

  test('what is written is read again', () => {
    const channels = fc.uniqueArray(fc.integer({ min: 1, max: 16 }), { minLength: 1 })
    checkProperty(
      'channels as text',
      fc.property(channels, (some) => {
        expect(readChannels(channelText(some))).toEqual(some.toSorted((a, b) => a - b))
      }),
    )
  })
})

describe('prescalers', () => {
  test('rise', () => {
    expect(readPrescalers('1, 8 64')).toEqual([1, 8, 64])
    for (const text of ['8, 1', '0, 1', '1, 1', '65536', '1,,8', '1, x', ''])
      expect([text, prescalerFault(text)]).toEqual([text, expect.stringContaining('rising order')])
  })
})

describe('ports', () => {
  test.each([
    ['/dev/ttyUSB0 (Glass (and) lamp works)', '/dev/ttyUSB0'],
    ['/dev/ttyUSB0', '/dev/ttyUSB0'],
    ['COM3 (works)', 'COM3'],
  ])('%s is called %s in a show', (listed, path) => expect(serialPath(listed)).toBe(path))

  // The message is put together as the session does it, from the question the matcher asks.
  test.each([
    [['Bed:Bed 1 20:0', 'Other 21:0', 'Bed:Bed 1 24:0'], 'Bed:Bed 1'],
    [['1: odd, 2: name', '1: odd, 2: name'], '1: odd, 2: name'],
  ])('the places among %j are offered', (list, name) => {
    const match = matchPort({ name }, list)
    if (match.kind !== 'ambiguous') throw new Error(match.kind)
    const message = `${match.question} ${match.places.map((place) => `${place}: ${list[place]}`).join(', ')}`
    const offered = offeredPlaces(message)
    expect(offered).toEqual(match.places.map((place) => ({ place, name: list[place] })))
  })

  test('a message without places offers none', () => {
    expect(offeredPlaces('/dev/ttyUSB0: say in the show which one it is')).toEqual([])
  })
})

describe('the load of a supply', () => {
  const { rig } = demoShow()
  const [bench] = rig.supplies
  if (!bench) throw new Error('no supply')

  test('is watts over volts of all its lamps', () => {
    // Eight of 10 W and two of 6 W on 12 V.
    expect(supplyLoad(rig, bench)).toEqual({ lamps: 10, amps: expect.closeTo(92 / 12, 9), limit: 8 })
    expect(loadText(supplyLoad(rig, bench), bench, 'refuse')).toBe(
      'All 10 lamps lit draw 7.67 A; 8 A may be drawn (10 A × 0.8).',
    )
  })

  test('too many are told, with what the guard does', () => {
    const small = { ...bench, maxAmps: 5 }
    const load = supplyLoad(rig, small)
    expect(isOver(load)).toBe(true)
    expect(loadText(load, small, 'refuse')).toMatch(/7\.67 A, 3\.67 A too many: 4 A may be drawn.*refused/)
    expect(loadText(load, small, 'warn')).toMatch(/only warned of/)
  })
})

test('the plan shows every lamp, within its edges, and up is up', () => {
  const { lamps } = demoShow().rig
  const scale = planScale(lamps)
  for (const lamp of lamps) {
    const { across, down } = planPlace(scale, lamp)
    expect(across > 0 && across < 1 && down > 0 && down < 1).toBe(true)
  }
  expect(planPlace(scale, { x: 0, y: 2 }).down).toBeLessThan(planPlace(scale, { x: 0, y: 0 }).down)
  expect(planScale([]).width).toBeGreaterThan(0)
})

test('a plant is never called twice, past the end of the list', () => {
  const lamps: { id: string; name: string }[] = []
  for (let count = 0; count < 100; count++) {
    const name = freePlant(lamps)
    expect(lamps.map((lamp) => lamp.name)).not.toContain(name)
    lamps.push({ id: name.toLowerCase().replace(' ', '-'), name })
  }
})
