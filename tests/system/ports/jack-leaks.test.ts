import { readdirSync } from 'node:fs'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { realMidi } from '../../../app/engine/ports/midi-real.ts'
import type { MidiSystem } from '../../../app/engine/ports/midi-system.ts'
import { PortWatch } from '../../../app/engine/ports/port-watch.ts'
import { startJackMidi } from '../../support/jack-midi.ts'
import type { JackMidi } from '../../support/jack-midi.ts'

let jack: JackMidi
let ours: MidiSystem
let world: MidiSystem

beforeAll(async () => {
  // A server that waits for its programs stalls now and then when one opens and closes as often as here.
  jack = await startJackMidi({ waits: false })
  ours = realMidi(jack.load)
  world = realMidi(jack.load)
})

afterAll(async () => {
  ours.close()
  world.close()
  await jack.stop()
})

test('3,000 looks and 60 openings leave no client and no thread behind', () => {
  const source = world.openVirtualOutput?.('Sedge out')
  const watch = new PortWatch({ system: ours, report: () => {} })
  const want = (): void =>
    watch.want({ key: 'keys', way: 'input', port: { name: 'Sedge out' }, heard: () => {} })
  want()
  watch.poll()
  const threads = threadCount()
  for (let look = 0; look < 3_000; look++) watch.poll()
  for (let round = 0; round < 60; round++) {
    want()
    watch.poll()
    expect(watch.isOpen('keys')).toBe(true)
  }
  expect(threadCount()).toBeLessThanOrEqual(threads + 1)
  watch.stop()
  source?.close()
})

function threadCount(): number {
  return readdirSync('/proc/self/task').length
}
