import { expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { ResolvePart } from '../../../src/tuning/resolve.ts'
import { midiOutput } from '../../support/rig-outputs.ts'
import { lightOrder, resolvePart, runResolve } from '../../support/resolving.ts'

type Run = ReturnType<typeof runResolve>

function gliding(glide: ResolvePart['glide'], output = undefined as Parameters<typeof runResolve>[1]): Run {
  return runResolve({}, output, [resolvePart({ glide })])
}

/** When lamp 0 was told what, in ms and cents above 220 Hz, and whether struck. */
function told(run: Run): [ms: number, cents: number, strike: boolean][] {
  return run.said.flatMap(({ at, out }) =>
    out.kind !== 'wishes'
      ? []
      : out.wishes.flatMap(({ lamp, state }) =>
          lamp === 0 && state.on
            ? [[at / 1000, centsBetween(state.hz, 220), state.strike] as [number, number, boolean]]
            : [],
        ),
  )
}

test('a voice that goes on to another note glides there, 4 ms apart, and ends on its pitch', () => {
  const run = gliding({ ms: 20, when: 'legato' })
  run.at(0, lightOrder(0, 1, { key: 57 }))
  run.at(100_000, lightOrder(0, 2, { key: 69 }, false))
  run.runOut()
  const all = told(run)
  expect(all.map(([ms]) => ms)).toEqual([0, 100, 104, 108, 112, 116, 120])
  const cents = [0, 0, 240, 480, 720, 960, 1200]
  all.forEach(([, is], place) => expect(is).toBeCloseTo(cents[place] ?? NaN, 6))
  expect(all.map(([, , strike]) => strike)).toEqual([true, ...Array.from({ length: 6 }, () => false)])
})

test('a note struck anew begins on its pitch where only legato glides', () => {
  const run = gliding({ ms: 20, when: 'legato' })
  run.at(0, lightOrder(0, 1, { key: 57 }))
  run.at(100_000, lightOrder(0, 2, { key: 69 }))
  run.runOut()
  expect(told(run).map(([ms, cents]) => [ms, Math.round(cents)])).toEqual([
    [0, 0],
    [100, 1200],
  ])
})

test('gliding always, a strike begins at the part’s last pitch, also on another lamp; the first note has none', () => {
  const run = gliding({ ms: 8, when: 'always' })
  run.at(0, lightOrder(1, 1, { key: 57 }))
  run.at(50_000, { kind: 'orders', orders: [{ kind: 'dark', lamp: 1 }] })
  run.at(100_000, lightOrder(0, 2, { key: 69 }))
  run.runOut()
  expect(told(run).map(([ms, cents, strike]) => [ms, Math.round(cents), strike])).toEqual([
    [100, 0, true],
    [104, 600, false],
    [108, 1200, false],
  ])
})

test('a glide that is interrupted goes on from where it is', () => {
  const run = gliding({ ms: 20, when: 'legato' })
  run.at(0, lightOrder(0, 1, { key: 57 }))
  run.at(100_000, lightOrder(0, 2, { key: 69 }, false))
  run.at(112_000, lightOrder(0, 3, { key: 57 }, false))
  run.runOut()
  const all = told(run).filter(([ms]) => ms >= 112)
  expect(all.at(0)?.[1]).toBeCloseTo(720, 6)
  expect(all.at(-1)).toEqual([132, expect.closeTo(0, 6), false])
})

test('on MIDI it bends from the key that sounds as far as the bend reaches', () => {
  const run = gliding({ ms: 20, when: 'legato' }, midiOutput({ bendRange: 12 }))
  run.at(0, lightOrder(0, 1, { key: 57 }))
  run.at(100_000, lightOrder(0, 2, { key: 64 }, false))
  run.runOut()
  const drives = run.said.flatMap(({ out }) =>
    out.kind === 'wishes' ? out.wishes.flatMap(({ state }) => (state.on ? [state.drive] : [])) : [],
  )
  expect(drives.length).toBeGreaterThan(3)
  for (const drive of drives) expect(drive).toMatchObject({ kind: 'bend', key: 57 })
})

test('a glide out of the lamp’s range stays at its end and never leaps by octaves', () => {
  const run = runResolve({ lowHz: 200, highHz: 500 }, undefined, [
    resolvePart({ glide: { ms: 40, when: 'always' } }),
  ])
  run.at(0, lightOrder(1, 1, { key: 57 }))
  run.at(1000, lightOrder(0, 2, { key: 69, cents: 100 }))
  run.runOut()
  const all = told(run).map(([, cents]) => cents)
  expect(all).toEqual(all.toSorted((a, b) => a - b))
})
