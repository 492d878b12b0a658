import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { strategies } from '../../../src/strategies/registry.ts'
import { ConformanceModel } from '../../support/conformance-model.ts'
import { startsFor } from '../../support/patterns-arbitrary.ts'
import { checkProperty } from '../../support/property.ts'
import { script } from '../../support/strategy-script.ts'

const LAMPS = ['fern', 'moss', 'reed', 'sedge', 'rush', 'ivy']

/**
 * What every strategy must do, whatever it does: the same for the same input, its state saved and restored at any step or not; leave the state it was
 * given alone; light only lamps that are its part's now; ask to be woken later, and come to rest; take a refusal for an answer; let no lamp
 * burn once the notes have ended; end at once with all-off. A new strategy is held to it by being in the registry.
 */
describe.each(strategies.map((strategy) => [strategy.kind, strategy] as const))('%s', (kind, strategy) => {
  // Made once for each number of lamps.
  const choices = LAMPS.map((_, index) => startsFor(strategy, LAMPS.slice(0, index + 1)))
  const setting = fc.integer({ min: 1, max: LAMPS.length }).chain((count) =>
    fc.record({
      count: fc.constant(count),
      options: fc.constantFrom(...(choices[count - 1] ?? [])),
      ends: fc.boolean(),
    }),
  )

  test('keeps the rules on any sequence of events, and rests when its notes have ended', () => {
    checkProperty(
      `strategy ${kind}: any sequence, then every note ends`,
      fc.property(setting, script, ({ count, options, ends }, lines) => {
        const model = new ConformanceModel(strategy, options, LAMPS.slice(0, count), ends)
        for (const line of lines) model.perform(line)
        model.endAll()
      }),
    )
  })

  test('all-off brings it to rest at once from anywhere', () => {
    checkProperty(
      `strategy ${kind}: any sequence, then all-off`,
      fc.property(setting, script, ({ count, options, ends }, lines) => {
        const model = new ConformanceModel(strategy, options, LAMPS.slice(0, count), ends)
        for (const line of lines) model.perform(line)
        model.allOff()
        // It plays again afterwards, by the same rules.
        for (const line of lines) model.perform(line)
        model.endAll()
      }),
    )
  })

  test('takes no for an answer from every lamp at once', () => {
    checkProperty(
      `strategy ${kind}: everything refused`,
      fc.property(setting, script, fc.boolean(), ({ count, options, ends }, lines, offers) => {
        const model = new ConformanceModel(strategy, options, LAMPS.slice(0, count), ends)
        for (const lamp of LAMPS.keys()) model.perform({ do: 'refusing', lamp, on: true, offers })
        for (const line of lines) if (line.do !== 'refusing') model.perform(line)
        model.endAll()
      }),
    )
  })

  test('lights something for a note on a lamp that is free (or the rules would be easy to keep)', () => {
    const [options] = choices[0] ?? []
    const keys = Array.from({ length: 128 }, (_, key) => key)
    const lit = keys.some((key) => {
      const note = { id: 1, key, channel: 1, velocity: 90 }
      const view = { lamps: ['fern'], tempo: 120, time: { at: 0, beats: 0, tempo: 120 }, usable: () => true }
      const step = strategy.step(strategy.start(options, ['fern']), { kind: 'note-on', note }, view, 0)
      return step.intents.some((intent) => intent.kind === 'light')
    })
    expect(lit).toBe(true)
  })
})
