import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

const WARN = { supply: { action: 'warn' } }

// 12 V x 5 A x 0.8 = 48 W (common practice, no source).
test('lamps that are too many together', () => {
  expect(found(quietHouse({ rig: rig({ watts: 12 }) }))).toEqual([])
  expect(found(quietHouse({ rig: rig({ watts: 20 }) }))).toEqual([
    expect.stringMatching(
      /^warning, song tide: 4 lamps on supply bench may draw 6.67 A together, and 4 A \(80 % of 5 A\) is the limit. Of these lamps 2 fit at once: the guard keeps/,
    ),
  ])
  expect(found(quietHouse({ rig: rig({ watts: 20 }), guards: WARN }))).toEqual([
    expect.stringMatching(/^warning, .*2 fit at once: the guard only counts/),
  ])
})

const part = (width: number) => lead({ strategy: { kind: 'travel', width } })

const show = (width: number) => quietHouse({ rig: rig({ watts: 20 }), songs: [tide([part(width)])] })

test('a travelling voice lights no more than its width', () => {
  expect(found(show(2))).toEqual([])
  expect(found(show(3))).toEqual([expect.stringContaining('may draw 5 A together')])
})

test('a lamp too heavy by itself', () => {
  expect(found(quietHouse({ rig: rig({ watts: 50 }) }))).toEqual([
    expect.stringMatching(
      /^fault, \$\.rig\.supplies\[0\]: lamps fern, moss, reed and sedge alone draw more than 4 A .*: up to 4.17 A. The guard never/,
    ),
  ])
  expect(found(quietHouse({ rig: rig({ watts: 50 }), guards: WARN }))[0]).toMatch(
    /^warning, \$\.rig\.supplies/,
  )
  expect(found(quietHouse({ rig: rig({ watts: 61 }), guards: WARN }))[0]).toMatch(/^fault, \$\.rig\.supplies/)
})
