import { expect, test } from 'vitest'
import { joinMidi } from '../../../../app/engine/ports/midi-joined.ts'
import { MemoryMidi } from '../../../../app/engine/ports/midi-memory.ts'
import { PortWatch } from '../../../../app/engine/ports/port-watch.ts'
import { VirtualTimers } from '../../../support/virtual-timers.ts'

function joined() {
  const memory = new MemoryMidi()
  const real = new MemoryMidi()
  const time = { now: 0 }
  return { memory, real, time, midi: joinMidi(memory, real, () => time.now) }
}

test('ports in memory come first, and each place opens what the list says', () => {
  const { memory, real, midi } = joined()
  memory.plug('input', 'Keybed')
  memory.plug('output', 'Lamp box')
  real.plug('input', 'Stand')
  const pedals = real.plug('input', 'Pedals')
  const other = real.plug('output', 'Other box')
  expect(midi.inputs()).toEqual(['Keybed', 'Stand', 'Pedals'])
  expect(midi.outputs()).toEqual(['Lamp box', 'Other box'])
  const heard: number[][] = []
  expect(midi.openInput(2, (bytes) => heard.push([...bytes])).name).toBe('Pedals')
  expect(midi.openInput(0, () => {}).name).toBe('Keybed')
  pedals.deliver(Uint8Array.of(0x90, 1, 2))
  expect(heard).toEqual([[0x90, 1, 2]])
  const out = midi.openOutput(1)
  out.send(Uint8Array.of(0xf8))
  expect(other.sent.map(({ bytes }) => [...bytes])).toEqual([[0xf8]])
  expect([memory.openCount, real.openCount]).toEqual([1, 2])
  expect(() => midi.openInput(9, () => {})).toThrow(expect.objectContaining({ kind: 'gone' }))
  midi.close()
  expect([memory.openCount, real.openCount]).toEqual([0, 0])
})

test('a real port called like one in memory is not listed, and the places of the others hold', () => {
  const { memory, real, midi } = joined()
  memory.plug('input', 'Keybed')
  real.plug('input', 'Keybed 20:0')
  real.plug('input', 'Pedals')
  expect(midi.inputs()).toEqual(['Keybed', 'Pedals'])
  expect(midi.openInput(1, () => {}).name).toBe('Pedals')
})

test('where the real system is unavailable the ports in memory are there, and it is not asked all the time', () => {
  const { memory, real, midi, time } = joined()
  memory.plug('input', 'Keybed')
  real.plug('input', 'Pedals')
  let asked = 0
  const list = real.inputs.bind(real)
  real.inputs = () => {
    asked++
    return list()
  }
  real.fail('no sequencer')
  for (; time.now < 30_000; time.now += 500) expect(midi.inputs()).toEqual(['Keybed'])
  expect(asked).toBeLessThan(6)
  real.fail(undefined)
  time.now += 12_000
  expect(midi.inputs()).toEqual(['Keybed', 'Pedals'])
})

test('one failure of the real system closes no real port', () => {
  const { memory, real, midi } = joined()
  const timers = new VirtualTimers()
  memory.plug('input', 'Keybed')
  const pedals = real.plug('input', 'Pedals')
  const told: string[] = []
  const watch = new PortWatch({
    system: midi,
    report: ({ wanted, kind }) => told.push(`${wanted} ${kind}`),
    timer: {
      now: () => timers.now() / 1000,
      after: (wait, run) => timers.at(timers.now() + 1000 * wait, run),
    },
  })
  for (const name of ['Keybed', 'Pedals'])
    watch.want({ key: name, way: 'input', port: { name }, heard: () => {} })
  watch.start()
  real.fail('a hiccup')
  timers.run(500_000)
  real.fail(undefined)
  timers.run(5_000_000)
  expect(told).toEqual(['Keybed opened', 'Pedals opened'])
  expect(pedals.ears.size).toBe(1)
})

test('virtual ports are the real system’s; where it has none there are none', () => {
  const { memory, real, midi } = joined()
  midi.openVirtualOutput?.('Out')
  midi.openVirtualInput?.('In', () => {})
  expect([real.openCount, memory.openCount]).toEqual([2, 0])
  const { openVirtualInput: _, openVirtualOutput: __, ...none } = bare(real)
  expect(joinMidi(memory, none).openVirtualInput).toBeUndefined()
  expect(joinMidi(memory, none).openVirtualOutput).toBeUndefined()
})

function bare(system: MemoryMidi) {
  return {
    inputs: () => system.inputs(),
    outputs: () => system.outputs(),
    openInput: system.openInput.bind(system),
    openOutput: system.openOutput.bind(system),
    openVirtualInput: system.openVirtualInput.bind(system),
    openVirtualOutput: system.openVirtualOutput.bind(system),
    close: () => system.close(),
  }
}
