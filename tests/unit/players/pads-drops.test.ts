import { describe, expect, test } from 'vitest'
import { on } from '../../support/midi-messages.ts'
import { playPads } from '../../support/players.ts'

const ms = 1000

describe('floor', () => {
  test.each([
    [7, { kind: 'dropped', key: 38, channel: 1, why: 'floor', velocity: 7 }],
    [8, { kind: 'note-on' }],
  ])('with a floor of 8, a hit of %i is %o', (velocity, said) => {
    expect(playPads({ floor: 8 }).at(0, on(38, velocity))).toMatchObject([said])
  })

  test('a hit under the floor masks nothing', () => {
    const run = playPads()
    run.at(0, on(38, 3))
    expect(run.at(1 * ms, on(38, 90))).toMatchObject([{ kind: 'note-on', note: 1 }])
  })
})

describe('mask', () => {
  test.each([
    [11_999, { kind: 'dropped', key: 38, channel: 1, why: 'mask' }],
    [12_000, { kind: 'note-on', note: 2 }],
  ])('12 ms: a second hit after %i microseconds is %o', (after, said) => {
    const run = playPads({ maskMs: 12 })
    run.at(0, on(38, 60))
    expect(run.at(after, on(38, 127)).at(-1)).toMatchObject(said)
  })

  test('it counts from the last hit that was taken, so a buzz does not hold the pad shut', () => {
    const run = playPads({ maskMs: 12 })
    const kinds = [0, 8, 16, 24, 32].map((at) => run.at(at * ms, on(38)).at(-1)?.kind)
    expect(kinds).toEqual(['note-on', 'dropped', 'note-on', 'dropped', 'note-on'])
  })

  test('each pad has its own; the same key on another channel is another pad', () => {
    const run = playPads({ maskMs: 12 })
    run.at(0, on(38))
    expect(run.at(1 * ms, on(36))).toMatchObject([{ kind: 'note-on' }])
    expect(run.at(2 * ms, on(38, 100, 10))).toMatchObject([{ kind: 'note-on' }])
  })

  test('a mask of 0 takes every hit, also two at one time', () => {
    const run = playPads({ maskMs: 0 })
    run.at(0, on(38))
    expect(run.at(0, on(38)).at(-1)).toMatchObject({ kind: 'note-on', note: 2 })
  })

  test('a bounce of the own pad is a bounce, also while another pad shakes it', () => {
    const run = playPads({ maskMs: 12, crosstalkMs: 5, floor: 0 })
    run.at(0, on(36, 120))
    run.at(0, on(38, 100))
    expect(run.at(1 * ms, on(38, 10))).toMatchObject([{ kind: 'dropped', why: 'mask' }])
  })
})

describe('crosstalk', () => {
  test.each([
    [4_999, 29, { kind: 'dropped', key: 38, channel: 1, why: 'crosstalk' }],
    [4_999, 30, { kind: 'note-on' }],
    [5_000, 29, { kind: 'note-on' }],
  ])('%i microseconds after a hit of 90 on another pad, one of %i is %o', (after, velocity, said) => {
    const run = playPads({ crosstalkMs: 5 })
    run.at(0, on(36, 90))
    expect(run.at(after, on(38, velocity))).toMatchObject([said])
  })

  test('only what came before counts: a weak hit just before a loud one is taken, and at once', () => {
    const run = playPads({ crosstalkMs: 5 })
    expect(run.at(0, on(38, 29))).toMatchObject([{ kind: 'note-on', key: 38 }])
    expect(run.wakeAt).toBe(120 * ms)
    expect(run.at(1 * ms, on(36, 90))).toMatchObject([{ kind: 'note-on', key: 36 }])
  })

  test('the loudest within the window counts, also where the pad was struck again more softly', () => {
    const run = playPads({ crosstalkMs: 5, maskMs: 1 })
    run.at(0, on(36, 90))
    run.at(2 * ms, on(36, 40))
    expect(run.at(3 * ms, on(38, 29))).toMatchObject([{ kind: 'dropped', why: 'crosstalk' }])
    expect(run.at(5 * ms, on(38, 29))).toMatchObject([{ kind: 'note-on' }])
  })

  test('what was dropped shakes nothing', () => {
    const run = playPads({ crosstalkMs: 5, maskMs: 12 })
    run.at(0, on(36, 60))
    expect(run.at(6 * ms, on(36, 127))).toMatchObject([{ kind: 'dropped', why: 'mask' }])
    expect(run.at(7 * ms, on(38, 20))).toMatchObject([{ kind: 'note-on' }])
  })

  test('it goes by how hard both were struck, whatever curves make of them', () => {
    const run = playPads({ curve: [[1, 100]] })
    run.at(0, on(36, 90))
    expect(run.at(1 * ms, on(38, 29))).toMatchObject([{ kind: 'dropped', why: 'crosstalk', velocity: 29 }])
  })

  test('a window of 0 drops nothing', () => {
    const run = playPads({ crosstalkMs: 0 })
    run.at(0, on(36, 127))
    expect(run.at(0, on(38, 9))).toMatchObject([{ kind: 'note-on' }])
  })
})
