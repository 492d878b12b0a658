import { expect, test } from 'vitest'
import { watched } from '../../../support/watched.ts'

test('while an equal one is away, a new count is not followed: of two exchanged between looks both are asked about, and each gets its own back', () => {
  const { midi, watch, timer, want, said } = watched()
  const first = midi.plug('input', 'Moss')
  const second = midi.plug('input', '2- Moss')
  want('input', 'w1', { name: 'Moss', nth: 0, of: 2 })
  want('input', 'w2', { name: '2- Moss', nth: 1, of: 2 })
  watch.start()
  expect(said()).toEqual(['w1 opened', 'w2 opened'])
  midi.pull('input', first)
  timer.pass(500)
  expect(said()).toEqual(['w1 lost'])
  midi.pull('input', second)
  midi.replug('input', first)
  timer.pass(500)
  expect(said()).toEqual(['w2 lost', 'w1 ambiguous', 'w2 ambiguous'])
  expect(watch.isOpen('w2')).toBe(false)
  midi.replug('input', second)
  timer.pass(500)
  expect(said()).toEqual(['w1 returned', 'w2 returned'])
  expect([watch.isOpen('w1'), watch.isOpen('w2')]).toEqual([true, true])
})
