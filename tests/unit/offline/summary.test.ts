import { describe, expect, it } from 'vitest'
import { createReport } from '../../../src/offline/report.ts'
import { createSummary } from '../../../src/offline/summary.ts'
import type { LampChange } from '../../../src/domain/lamp-state.ts'
import { dark, lit, plantRig } from '../../support/lamp-changes.ts'

describe('the picture of lamps over time', () => {
  it('looks like this', () => {
    const rig = plantRig(12, 12, 12)
    const report = createReport(rig)
    const summary = createSummary(rig, 20)
    const moments: readonly (readonly [number, ...LampChange[]])[] = [
      [0, lit(0, 440)],
      [2.5, dark(0), lit(1, 261.63)],
      [3, lit(1, 523.25, 0.5, { strike: false })],
      [5, lit(0, 220)],
      [6, dark(1)],
      [9.75, dark(0)],
      [9.999, lit(0, 5)],
      [10, dark(0)],
    ]
    for (const [seconds, ...changes] of moments) {
      report.frame(seconds * 1e6, changes)
      summary.frame(seconds * 1e6, changes)
    }
    report.count('notesIn', 4)
    report.warn('Reed is never used')
    expect(summary.finish(10e6, report.finish(10e6))).toBe(
      [
        'Fern █████·····█████████▅ 3 notes  5.0 Hz to A4',
        'Moss ·····███████········ 1 note  C4 to C5',
        'Reed ···················· 0 notes',
        '     |0 s      |5.0',
        '',
        '10.0 s, 4 notes in, 0 without a lamp, 0 stolen, 9 lamp changes',
        'tuning: at most 0.00 cents off',
        'supply bench: peak 2.00 A, mean 0.54 A',
        'flashes: at most 2 in a second, 0.0 s between 3 and 30 Hz, 0.0 s under 60 Hz; at most 67 % of the lamps lit at once',
        'refused by the guards: 0',
        'warning: Reed is never used',
      ].join('\n'),
    )
  })

  it('shows a blink in an hour, and how full a column is', () => {
    const rig = plantRig(12)
    const summary = createSummary(rig, 10)
    summary.frame(0, [lit(0, 440)])
    summary.frame(1000, [dark(0)])
    summary.frame(1800e6, [lit(0, 440)])
    summary.frame(1980e6, [dark(0)])
    const [row] = summary.finish(3600e6, createReport(rig).finish(3600e6)).split('\n')
    expect(row).toBe('Fern ▁····▄···· 2 notes  A4 to A4')
  })

  it('is at least ten columns wide', () => {
    expect(() => createSummary(plantRig(12), 9)).toThrow('the picture needs 10 columns or more, got 9')
  })
})
