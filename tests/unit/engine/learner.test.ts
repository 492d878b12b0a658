import { expect, test } from 'vitest'
import { Learner } from '../../../app/engine/learner.ts'
import { MemoryMidi } from '../../../app/engine/ports/midi-memory.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import { fromEngine } from '../../../src/contract/from-engine.ts'
import { VirtualTimers } from '../../support/virtual-timers.ts'

const MS = 1_000

function controlWords({ key, controller, program }: Extract<FromEngine, { type: 'learned' }>): string {
  return String(key ?? (controller === undefined ? `program${program}` : `cc${controller}`))
}

function learning(held: (list: readonly string[]) => readonly number[] = () => []) {
  const timers = new VirtualTimers()
  const midi = new MemoryMidi(() => timers.now())
  const said: FromEngine[] = []
  const learner = new Learner({
    midiIn: midi,
    held: (list) => new Set(held(list)),
    timers,
    say: (message) => said.push(fromEngine.parse(message)),
  })
  const learned = (): string[] =>
    said.flatMap((message) =>
      message.type === 'learned' ? [`${message.port} ${message.channel} ${controlWords(message)}`] : [],
    )
  const complaints = (): string[] =>
    said.flatMap((message) => (message.type === 'diagnostic' ? [message.diagnostic.message] : []))
  return { timers, midi, learner, learned, complaints }
}

test('every listed input is heard: notes, controllers and program changes, and nothing else', () => {
  const { midi, learner, learned } = learning()
  const keybed = midi.plug('input', 'Keybed')
  const pedals = midi.plug('input', 'Pedals')
  learner.start()
  keybed.deliver(Uint8Array.of(0x90, 64, 100))
  keybed.deliver(Uint8Array.of(0x80, 64, 64))
  keybed.deliver(Uint8Array.of(0x91, 64, 0)) // a note-off as running status has it
  for (const byte of [0xf8, 0xfe]) keybed.deliver(Uint8Array.of(byte))
  keybed.deliver(Uint8Array.of(0xe0, 0, 70))
  keybed.deliver(Uint8Array.of(0xd0, 70))
  keybed.deliver(Uint8Array.of(0xf0, 0x7d, 0x10))
  keybed.deliver(Uint8Array.of(0x11, 0xf7))
  keybed.deliver(Uint8Array.of(0xb0, 123, 0)) // all notes off: a channel mode message
  pedals.deliver(Uint8Array.of(0xb9, 64, 127))
  pedals.deliver(Uint8Array.of(0xc9, 0, 0xc9, 5, 0xc9, 5))
  expect(learned()).toEqual(['Keybed 1 64', 'Pedals 10 cc64', 'Pedals 10 program0', 'Pedals 10 program5'])
})

test('the same control again within 150 ms is told once; others at once', () => {
  const { timers, midi, learner, learned } = learning()
  const keybed = midi.plug('input', 'Keybed')
  learner.start()
  for (let turn = 0; turn < 30; turn++) {
    keybed.deliver(Uint8Array.of(0xb0, 74, turn))
    timers.run(10 * MS)
  }
  expect(learned()).toEqual(['Keybed 1 cc74', 'Keybed 1 cc74'])
  keybed.deliver(Uint8Array.of(0x90, 74, 100))
  keybed.deliver(Uint8Array.of(0x91, 74, 100))
  expect(learned().slice(2)).toEqual(['Keybed 1 74', 'Keybed 2 74'])
})

test('ports that are open already are left alone; what comes in there is told all the same', () => {
  const { midi, learner, learned } = learning((list) => [list.indexOf('Keybed')])
  const keybed = midi.plug('input', 'Keybed')
  midi.plug('input', 'Pedals')
  learner.start()
  expect([keybed.ears.size, midi.openCount]).toEqual([0, 1])
  learner.heard('Keybed', Uint8Array.of(0x90, 60, 1))
  expect(learned()).toEqual(['Keybed 1 60'])
})

test('a port plugged in while learning is found within half a second, one pulled is let go and found again', () => {
  const { timers, midi, learner, learned } = learning()
  learner.start()
  const pedals = midi.plug('input', 'Pedals')
  timers.run(500 * MS)
  pedals.deliver(Uint8Array.of(0xb0, 64, 127))
  midi.pull('input', pedals)
  timers.run(500 * MS)
  expect(midi.openCount).toBe(0)
  midi.replug('input', pedals)
  timers.run(500 * MS)
  pedals.deliver(Uint8Array.of(0xb0, 66, 127))
  expect(learned()).toEqual(['Pedals 1 cc64', 'Pedals 1 cc66'])
})

test('equal names are all heard, each once, also when their number changes', () => {
  const { timers, midi, learner, learned } = learning()
  const two = [midi.plug('input', 'Pedals'), midi.plug('input', 'Pedals')]
  learner.start()
  two.forEach((device, index) => device.deliver(Uint8Array.of(0x90, index, 1)))
  two.push(midi.plug('input', 'Pedals', 0))
  timers.run(500 * MS)
  two.forEach((device, index) => device.deliver(Uint8Array.of(0x90, 10 + index, 1)))
  expect(two.map(({ ears }) => ears.size)).toEqual([1, 1, 1])
  expect(learned()).toEqual([0, 1, 10, 11, 12].map((key) => `Pedals 1 ${key}`))
})

test('a port that does not open hides no other, is complained of once, and is heard when it opens', () => {
  const { timers, midi, learner, learned, complaints } = learning()
  const held = midi.plug('input', 'Keybed')
  held.heldByOther = true
  const equal = midi.plug('input', 'Keybed')
  const pedals = midi.plug('input', 'Pedals')
  learner.start()
  timers.run(2_000 * MS)
  expect(complaints()).toEqual([expect.stringContaining('Another program holds the MIDI input "Keybed"')])
  const [ear] = equal.ears
  pedals.deliver(Uint8Array.of(0x90, 1, 1))
  equal.deliver(Uint8Array.of(0x90, 2, 1))
  held.heldByOther = false
  timers.run(3_000 * MS)
  held.deliver(Uint8Array.of(0x90, 3, 1))
  expect(learned()).toEqual(['Pedals 1 1', 'Keybed 1 2', 'Keybed 1 3'])
  // It was not disturbed.
  expect([...equal.ears]).toEqual([ear])
})

test('where MIDI as a whole cannot be had that is said once, and it is tried again', () => {
  const { timers, midi, learner, learned, complaints } = learning()
  const keybed = midi.plug('input', 'Keybed')
  midi.fail('no sequencer')
  learner.start()
  timers.run(4_000 * MS)
  expect(complaints()).toEqual(['no sequencer'])
  midi.fail(undefined)
  timers.run(12_000 * MS)
  keybed.deliver(Uint8Array.of(0x90, 60, 1))
  expect(learned()).toEqual(['Keybed 1 60'])
})

test('giving way lets all go for two seconds; the end lets all go for good', () => {
  const { timers, midi, learner, learned } = learning()
  const keybed = midi.plug('input', 'Keybed')
  learner.start()
  learner.giveWay()
  timers.run(1_900 * MS)
  expect(midi.openCount).toBe(0)
  timers.run(100 * MS)
  keybed.deliver(Uint8Array.of(0x90, 60, 1))
  learner.stop()
  keybed.deliver(Uint8Array.of(0x90, 62, 1))
  expect([learner.isOn, midi.openCount, timers.size]).toEqual([false, 0, 0])
  learner.giveWay()
  expect(timers.size).toBe(0)
  learner.start()
  keybed.deliver(Uint8Array.of(0x90, 60, 1))
  expect(learned()).toEqual(['Keybed 1 60', 'Keybed 1 60'])
})
