import { describe, expect, it } from 'vitest'
import { darkTrain, lightTrain, passEdge } from '../../../../src/guards/flash/pulse-train.ts'

describe('a pulse train', () => {
  it('has its edges at whole periods and a duty later, to the last bit after a million', () => {
    const train = darkTrain()
    lightTrain(train, 5, 0.1, 0.25, 0)
    for (let i = 0; i < 2_000_000; i++) passEdge(train)
    expect(train.level).toBe(1)
    expect(train.next).toBe(5 + 1_000_000.25 * 0.1)
  })

  it('is steady at and under the period asked for, and pulses above it', () => {
    const train = darkTrain()
    lightTrain(train, 0, 2, 0.25, 2)
    expect([train.level, train.next]).toEqual([0.25, Infinity])
    lightTrain(train, 10, 2.5, 0.5, 2)
    expect([train.level, train.next]).toEqual([1, 11.25])
  })

  it('never has an edge before the change that makes it', () => {
    const train = darkTrain()
    lightTrain(train, 0, 10, 0.9, 0)
    lightTrain(train, 8, 10, 0.1, 0)
    expect([train.level, train.next]).toEqual([1, 8])
  })
})
