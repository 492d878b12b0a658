import { expect, test } from 'vitest'
import { off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

test('two players with the same note on the same channel know nothing of each other', () => {
  const left = playKeys({ id: 'left' })
  const right = playKeys({ id: 'right' })
  left.at(0, on(60))
  right.at(0, on(60))
  expect(left.at(1, off(60))).toEqual([{ kind: 'note-off', note: 1 }])
  expect(left.at(2, off(60))).toEqual([])
  expect(right.at(3, off(60))).toEqual([{ kind: 'note-off', note: 1 }])
})
