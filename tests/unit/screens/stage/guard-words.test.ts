import { describe, expect, test } from 'vitest'
import { flashLine, supplyLine } from '../../../../app/screens/stage/guard-words.ts'
import type { FlashGuard } from '../../../../src/domain/flash-guard.ts'
import { guardCounts } from '../../../support/guard-counts.ts'

const WARN: FlashGuard = { action: 'warn' }
type Flash = ReturnType<typeof guardCounts>['flash']
type Supply = ReturnType<typeof guardCounts>['supply']

function flash(counts: Partial<Flash>) {
  return flashLine(WARN, guardCounts(counts).flash)
}

function supply(counts: Partial<Supply>) {
  return supplyLine('refuse', guardCounts({}, counts).supply)
}

describe('of the flash guard', () => {
  test('flashes are told as counted, and no verdict with them', () => {
    expect(flash({ lastSecond: 1, perSecondMax: 3 })).toEqual({
      isWarning: false,
      state: 'Flash guard warns',
      figures: '1 flash a second, most 3',
    })
    expect(flash({}).figures).toBe('0 flashes a second')
  })

  // WCAG 2.2, success criterion 2.3.1: not more than three flashes in any one second period.
  test('more than three in any second stand as a warning, with what is allowed, also when they are over', () => {
    const now = flash({ lastSecond: 4, perSecondMax: 4 })
    expect(now).toMatchObject({ isWarning: true, figures: expect.stringContaining('(WCAG allows 3)') })
    expect(flash({ lastSecond: 0, perSecondMax: 5 })).toEqual({
      isWarning: true,
      state: 'Flash guard warns',
      figures: '0 flashes a second, most 5 (WCAG allows 3)',
    })
  })

  test('so does any time at 3 to 30 Hz, however short', () => {
    const at = (bandSeconds: number) => flash({ lastSecond: 2, perSecondMax: 2, bandSeconds })
    expect(at(0).isWarning).toBe(false)
    expect(at(0.02)).toMatchObject({
      isWarning: true,
      figures: '2 flashes a second, most 2, 0.1 s at 3 to 30 Hz',
    })
    expect(at(9.96).figures).toMatch(/, 10 s at 3 to 30 Hz$/)
    expect(at(12.4).figures).toMatch(/, 12 s at 3 to 30 Hz$/)
    expect(at(719).figures).toMatch(/, 12 min at 3 to 30 Hz$/)
  })

  test('what it did is told with what it does', () => {
    expect(flash({ action: 'fold', folded: 3 }).state).toBe('Flash guard folds: 3 rates moved')
    expect(flash({ action: 'fold' }).state).toBe('Flash guard folds')
    expect(flash({ action: 'glow', glowed: 1 }).state).toBe('Flash guard glows: kept lit 1 time')
    expect(flash({ action: 'limit', changes: 6, tied: 2 }).state).toBe('Flash guard limits: 2 notes tied')
    // It folded before somebody chose otherwise in this song.
    expect(flash({ action: 'warn', folded: 1 }).state).toBe('Flash guard warns: 1 rate moved')
  })

  test('that it is off is a warning with the day, and flashes are not told', () => {
    const off = { isWarning: true, state: 'Flash guard is off since 2026-11-25' }
    const counts = { action: 'off', since: '2026-11-25', lastSecond: 9, perSecondMax: 12, bandSeconds: 4 }
    const told = flash(counts as Partial<Flash>)
    expect(told).toMatchObject(off)
    expect(told.figures).not.toMatch(/\d/)
    expect(flashLine({ action: 'off', since: '2026-11-25' }, undefined)).toMatchObject(off)
  })

  test('until there are counts, what the show says is told; then what the engine does', () => {
    expect(flashLine({ action: 'limit', changes: 6 }, undefined)).toEqual({
      isWarning: false,
      state: 'Flash guard limits',
      figures: 'nothing is counted yet',
    })
    const counts = guardCounts({ action: 'fold' }).flash
    expect(flashLine({ action: 'off', since: '2026-11-25' }, counts).state).toBe('Flash guard folds')
  })
})

describe('of the supply guard', () => {
  test('the draw, the limit and what was refused', () => {
    expect(supply({ refused: 1 })).toEqual({
      state: 'bench 1.7 of 2.0 A',
      figures: '1 refused',
    })
    expect(supply({}).figures).toBe('none refused')
    expect(supply({ stolen: 2, heldDown: 3 }).figures).toBe('2 darkened, 3 held down')
  })

  test('by how much it was over stays told; a hair over for rounding is not over', () => {
    const one = { id: 'bench', limitAmps: 2, amps: 1, peakAmps: 2.31, meanAmps: 0.6 }
    const past = supply({ action: 'warn', exceeded: 2, supplies: [one] })
    expect(past).toEqual({
      state: 'bench 1.0 of 2.0 A',
      figures: 'over by 0.3 A, 2 times',
    })
    const full = { ...one, limitAmps: 0.3, peakAmps: 0.1 + 0.2 }
    expect(supply({ supplies: [full] }).figures).toBe('none refused')
  })

  test('of several the one that was fullest, so that lines do not change places as lamps light', () => {
    const roof = { id: 'roof', limitAmps: 10, amps: 0, peakAmps: 9.8, meanAmps: 1 }
    const bench = { id: 'bench', limitAmps: 2, amps: 1.5, peakAmps: 1.9, meanAmps: 0.6 }
    const pond = { id: 'pond', limitAmps: 200, amps: 120, peakAmps: 130, meanAmps: 80 }
    const told = supply({ supplies: [bench, roof, pond] })
    expect(told.state).toBe('roof 0.0 of 10.0 A')
    expect(told.figures).toBe('fullest of 3, none refused')
    expect(supply({ supplies: [pond] }).state).toBe('pond 120 of 200 A')
    const long = { ...pond, id: 'behind-the-palms' }
    expect(supply({ supplies: [long] }).state).toBe('behind-the-… 120 of 200 A')
  })

  test('until there are counts, what the show says', () => {
    expect(supplyLine('steal', undefined)).toMatchObject({
      state: 'Supply guard steals',
      figures: 'nothing is counted yet',
    })
  })
})
