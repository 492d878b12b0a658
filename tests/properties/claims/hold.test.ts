import fc from 'fast-check'
import { expect, test } from 'vitest'
import { hold } from '../../../src/claims/hold.ts'
import { checkProperty } from '../../support/property.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

const LAMPS = 3
const delays = fc.array(fc.constantFrom(0, 1, 7, 20), { minLength: LAMPS, maxLength: LAMPS })
const move = fc.record({
  after: fc.constantFrom(0, 0, 1, 3, 7, 10, 20, 50),
  lamp: fc.nat(LAMPS - 1),
  what: fc.constantFrom('strike', 'strike', 'change', 'dark'),
  gap: fc.constantFrom(0, 0, 1, 7, 10, 30),
})
const moves = fc.array(move, { maxLength: 50 })

function perform(
  config: readonly number[],
  list: typeof moves extends fc.Arbitrary<infer T> ? T : never,
  json = false,
) {
  const run = new StageRun(hold, { delays: config }, json)
  let at = 0
  list.forEach(({ after, lamp, what, gap }, index) => {
    at += after
    const note = index + 1
    if (what === 'dark') run.at(at, wishes(darkens(lamp)))
    else run.at(at, wishes(lights(lamp, note, { strike: what === 'strike', velocity: 1 + (at % 127) }, gap)))
  })
  return { run, at }
}

test('once a lamp was asked to go dark for the last time, dark is the last that comes of it, its delay later', () => {
  checkProperty(
    'hold: ends dark',
    fc.property(delays, moves, (config, list) => {
      const { run, at } = perform(config, list)
      run.at(at, wishes(...config.map((_, lamp) => darkens(lamp))))
      run.runOut()
      expect(run.wakeAt).toBeUndefined()
      config.forEach((delay, lamp) => {
        const last = run.said.findLast(({ out }) => out.wishes.some((wish) => wish.lamp === lamp))
        expect(last?.out.wishes.findLast((wish) => wish.lamp === lamp)?.state.on).toBe(false)
        expect(last?.at).toBe(at + delay)
      })
    }),
    3000,
  )
})

test('what comes out for a lamp is in the order it was asked for, never before its delay, the last always', () => {
  checkProperty(
    'hold: order',
    fc.property(delays, moves, (config, list) => {
      const { run } = perform(config, list)
      run.runOut()
      const asked = new Map<number, number>()
      let at = 0
      list.forEach(({ after }, index) => asked.set(index + 1, (at += after)))
      config.forEach((delay, lamp) => {
        const came = run.said.flatMap((said) =>
          said.out.wishes.flatMap(({ lamp: of, state }) => (of === lamp ? [{ at: said.at, state }] : [])),
        )
        const notes = came.flatMap(({ at: when, state }) => (state.on ? [{ when, note: state.note }] : []))
        notes.forEach(({ when, note }, index) => {
          expect(note).toBeGreaterThan(notes[index - 1]?.note ?? 0)
          expect(when).toBeGreaterThanOrEqual((asked.get(note) ?? Infinity) + delay)
        })
        const last = list.findLastIndex((one) => one.lamp === lamp)
        if (last < 0) return
        const end = came.at(-1)?.state
        expect(end?.on ? end.note : 0).toBe(list[last]?.what === 'dark' ? 0 : last + 1)
      })
    }),
    3000,
  )
})

test('between lit and struck again with a gap, the lamp is dark for at least the gap', () => {
  checkProperty(
    'hold: gap',
    fc.property(delays, moves, (config, list) => {
      const { run } = perform(config, list)
      run.runOut()
      config.forEach((_, lamp) => {
        // What the lamp showed once each moment was over.
        const shown = new Map<number, boolean>()
        const struck = new Map<number, number>()
        for (const { at, out } of run.said) {
          for (const { lamp: of, state } of out.wishes) {
            if (of !== lamp) continue
            shown.set(at, state.on)
            if (state.on && state.strike) struck.set(at, state.note)
            else if (!state.on) struck.delete(at)
          }
        }
        const tooSoon: string[] = []
        let isDark = true
        let darkSince = -Infinity
        for (const [at, isLit] of shown) {
          // A change that joined a strike shines after that strike's gap.
          const upTo = list.slice(0, struck.get(at) ?? 0)
          const gap = upTo.findLast((one) => one.lamp === lamp && one.what === 'strike')?.gap ?? 0
          const isGapKept = isDark && at - darkSince >= gap
          if (isLit && struck.has(at) && gap > 0 && !isGapKept) tooSoon.push(`${at}, dark since ${darkSince}`)
          if (!isLit && !isDark) darkSince = at
          isDark = !isLit
        }
        expect(tooSoon).toEqual([])
      })
    }),
    3000,
  )
})

test('put down as JSON and taken up after every step, it says the same', () => {
  checkProperty(
    'hold: round trip',
    fc.property(delays, moves, (config, list) => {
      const straight = perform(config, list).run
      const putDown = perform(config, list, true).run
      expect(putDown.runOut()).toEqual(straight.runOut())
      expect(putDown.said).toEqual(straight.said)
    }),
  )
})
