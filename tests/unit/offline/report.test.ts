import { describe, expect, it } from 'vitest'
import { createReport } from '../../../src/offline/report.ts'
import { dark, lit, plantRig } from '../../support/lamp-changes.ts'

describe('the report', () => {
  it('has every figure, in the order of the file', () => {
    const report = createReport(plantRig(12, 24))
    report.count('notesIn', 3)
    report.count('unplaced')
    report.count('steals')
    report.count('refused', 2)
    report.frame(0, [lit(0, 440, 0.5, { cents: -0.61234567 })])
    report.frame(500_000, [lit(1, 220, 0.25, { cents: 0.2 })])
    report.frame(1_000_000, [dark(0), dark(1)])
    report.warn('Fern is asked for 5 Hz')
    report.warn('Moss is never used')
    report.warn('Fern is asked for 5 Hz')
    expect(JSON.stringify(report.finish(1_500_000))).toBe(
      '{"seconds":1.5,"notesIn":3,"unplaced":1,"steals":1,"switches":0,"changes":4,"worstCents":0.6123,' +
        '"supplies":{"bench":{"peakAmps":3,"meanAmps":0.5}},"flash":{"perSecondMax":1,"bandSeconds":0,"fieldPerSecondMax":1,"under60Seconds":0,"litShareMax":1,"flashShareMax":1,"lamps":{' +
        '"fern":{"perSecondMax":1,"bandSeconds":0,"under60Seconds":0,"litSeconds":1,"rates":[{"hz":440,"seconds":1}]},' +
        '"moss":{"perSecondMax":1,"bandSeconds":0,"under60Seconds":0,"litSeconds":0.5,"rates":[{"hz":220,"seconds":0.5}]}}},' +
        '"guards":{"refused":2,"stolen":0,"heldDown":0,"folded":0,"tied":0,"glowed":0},"warnings":["Fern is asked for 5 Hz (2 times)","Moss is never used"]}',
    )
  })

  it('lists a thousand different warnings and counts the rest', () => {
    const report = createReport(plantRig(12))
    for (let i = 0; i < 1500; i++) report.warn(`warning ${i}`)
    const { warnings } = report.finish(0)
    expect(warnings.length).toBe(1001)
    expect(warnings.at(-1)).toBe('500 more warnings are not listed')
  })

  it('does not take for out of tune what nobody hears', () => {
    const report = createReport(plantRig(12))
    report.frame(0, [lit(0, 440, 0.5, { cents: 0.5 })])
    report.frame(5, [lit(0, 25_000, 0.5, { cents: -40, glow: true })])
    expect(report.finish(10).worstCents).toBe(0.5)
  })

  it('refuses time that goes back', () => {
    const report = createReport(plantRig(12))
    report.frame(10, [lit(0, 440)])
    expect(() => report.frame(9, [])).toThrow('a moment at 9 us comes after one at 10 us')
    expect(() => report.finish(9)).toThrow('the end at 9 us is before the last change at 10 us')
  })
})
