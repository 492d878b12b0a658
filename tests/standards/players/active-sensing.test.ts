import { describe, expect, test } from 'vitest'
import { off, on } from '../../support/midi-messages.ts'
import { playKeys, playStrings } from '../../support/players.ts'

// MIDI 1.0 Detailed Specification: watch only after the first FE; then 300 ms without a message (here with a tolerance of a tenth, from memory)
// mean that the cable is out, all voices off, and back to normal.

const FE = { type: 'active-sensing' } as const

describe.each([
  ['keys', playKeys],
  ['strings', playStrings],
])('%s', (_, play) => {
  test('a sender that never sent FE may be silent for ever', () => {
    const run = play()
    run.at(0, on(60))
    run.runOut()
    expect(run.wakeAt).toBeUndefined()
    expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on'])
  })

  test('after FE, silence for longer than the limit ends everything, once', () => {
    const run = play()
    run.at(0, on(60))
    run.at(100_000, FE)
    run.wakeUpTo(100_000 + 300_000)
    expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on'])
    expect(run.runOut()).toEqual([{ at: 100_000 + 330_000, out: { kind: 'all-off' } }])
  })

  test('any message keeps the watch going, also one of another channel and a clock', () => {
    const run = play()
    run.at(0, FE)
    run.at(1, on(60))
    run.at(300_000, { type: 'clock' })
    run.at(600_000, on(60, 100, 16))
    run.at(900_000, FE)
    expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on'])
    expect(run.wakeAt).toBe(900_000 + 330_000)
  })

  test('back to normal: silence is allowed until the next FE', () => {
    const run = play()
    run.at(0, FE)
    run.runOut()
    run.at(1_000_000, on(60))
    run.wakeUpTo(5_000_000)
    run.at(5_000_000, off(60))
    run.runOut()
    expect(run.said.map(({ out }) => out.kind)).toEqual(['all-off', 'note-on', 'note-off'])
  })
})
