import { Midi } from 'tonal'
import { expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import { tuningTable } from '../../../src/tuning/tuning.ts'

test('all 128 keys of the even tuning are as the library tonal has them', () => {
  const table = tuningTable({
    id: 'even',
    kind: 'equal',
    steps: 12,
    periodCents: 1200,
    refNote: 69,
    refHz: 440,
  })
  expect(table).toHaveLength(128)
  table.forEach((hz, key) =>
    expect(Math.abs(centsBetween(hz ?? NaN, Midi.midiToFreq(key)))).toBeLessThan(1e-9),
  )
})
