import { afterAll, beforeAll, expect, test } from 'vitest'
import { realMidi } from '../../../app/engine/ports/midi-real.ts'
import type { MidiSystem } from '../../../app/engine/ports/midi-system.ts'
import type { PortEvent } from '../../../app/engine/ports/port-event.ts'
import { PortWatch } from '../../../app/engine/ports/port-watch.ts'
import { eventually } from '../../support/eventually.ts'
import { connected, startJackMidi } from '../../support/jack-midi.ts'
import type { JackMidi } from '../../support/jack-midi.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'

let jack: JackMidi
let ours: MidiSystem
let world: MidiSystem

beforeAll(async () => {
  jack = await startJackMidi()
  ours = realMidi(jack.load)
  world = realMidi(jack.load)
})

afterAll(async () => {
  ours.close()
  world.close()
  await jack.stop()
})

test(
  'a port destroyed while open is noticed within 1.1 s; returned, it is opened once and each message comes once',
  REAL_PROCESSES,
  async () => {
    const events: PortEvent[] = []
    const heard: number[] = []
    const others: number[] = []
    const watch = new PortWatch({ system: ours, report: (event) => events.push(event) })
    let fern = world.openVirtualOutput?.('Fern out')
    const moss = world.openVirtualOutput?.('Moss out')
    watch.want({
      key: 'keys',
      way: 'input',
      port: { name: 'Fern out' },
      heard: (bytes) => heard.push(bytes[1] ?? -1),
    })
    watch.want({
      key: 'pads',
      way: 'input',
      port: { name: 'Moss out' },
      heard: (bytes) => others.push(bytes[1] ?? -1),
    })
    watch.start()
    const kinds = () => events.map((event) => `${event.wanted} ${event.kind}`)
    expect(kinds()).toEqual(['keys opened', 'pads opened'])

    for (let round = 1; round <= 3; round++) {
      events.length = 0
      fern?.close()
      expect(await eventually(() => events.length > 0)).toBeLessThan(1_100)
      expect(kinds()).toEqual(['keys lost'])
      fern = world.openVirtualOutput?.('Fern out')
      await eventually(() => events.length > 1)
      expect(kinds()).toEqual(['keys lost', 'keys returned'])
      await connected()
      for (let key = 0; key < 50; key++) fern?.send(Uint8Array.of(0x90, key, 100))
      moss?.send(Uint8Array.of(0x90, round, 100))
      await eventually(() => heard.length >= 50 * round && others.length >= round)
    }
    expect(heard).toEqual(Array.from({ length: 150 }, (_, at) => at % 50))
    expect(others).toEqual([1, 2, 3])
    watch.stop()
    fern?.close()
    moss?.close()
  },
)

test('8,000 notes in 10 s arrive complete and in order', REAL_PROCESSES, async () => {
  const heard: number[] = []
  const source = world.openVirtualOutput?.('Reed out')
  const watch = new PortWatch({ system: ours, report: () => {} })
  watch.want({
    key: 'keys',
    way: 'input',
    port: { name: 'Reed out' },
    heard: (bytes) => heard.push((bytes[1] ?? 0) + 128 * (bytes[2] ?? 0)),
  })
  watch.start()
  await connected()
  const begun = performance.now()
  let sent = 0
  // In bursts, as many as are due, so that a late timer does not slow the whole.
  while (sent < 8_000) {
    const due = Math.min(8_000, Math.floor((performance.now() - begun) * 0.8))
    for (; sent < due; sent++) source?.send(Uint8Array.of(0x90, sent % 128, Math.floor(sent / 128)))
    await new Promise((resolve) => setTimeout(resolve, 2))
  }
  await eventually(() => heard.length >= 8_000)
  expect(heard).toEqual(Array.from({ length: 8_000 }, (_, at) => at))
  watch.stop()
  source?.close()
})
