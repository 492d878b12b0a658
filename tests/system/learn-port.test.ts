import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { Learner } from '../../app/engine/learner.ts'
import { realMidi } from '../../app/engine/ports/midi-real.ts'
import type { MidiSystem } from '../../app/engine/ports/midi-system.ts'
import { PortWatch } from '../../app/engine/ports/port-watch.ts'
import { systemTimers } from '../../app/engine/ports/serial-timers.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { eventually } from '../support/eventually.ts'
import { connected, startJackMidi } from '../support/jack-midi.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

let jack: JackMidi
let ours: MidiSystem
let world: MidiSystem
let endings: (() => void)[] = []

beforeAll(async () => {
  jack = await startJackMidi()
  ours = realMidi(jack.load)
  world = realMidi(jack.load)
})

afterEach(() => {
  for (const end of endings) end()
  endings = []
})

afterAll(async () => {
  ours.close()
  world.close()
  await jack.stop()
})

/** Another program's port. */
function instrument(name: string) {
  const port = world.openVirtualOutput?.(name)
  if (!port) throw new Error('JACK has virtual ports')
  endings.push(() => port.close())
  return port
}

/** A port of a show, open as a session has it, and learning beside it. */
function learningBeside(played: string) {
  const heard: number[] = []
  const said: FromEngine[] = []
  const watch: PortWatch = new PortWatch({ system: ours, report: () => {} })
  const learner: Learner = new Learner({
    midiIn: ours,
    held: (list) => watch.openPlaces('input', list),
    timers: systemTimers(() => Math.round(performance.now() * 1000)),
    say: (message) => said.push(message),
  })
  watch.want({
    key: 'keys',
    way: 'input',
    port: { name: played },
    heard: (bytes) => {
      heard.push(bytes[1] ?? -1)
      if (learner.isOn) learner.heard(played, bytes)
    },
  })
  watch.start()
  endings.push(
    () => watch.stop(),
    () => learner.stop(),
  )
  const learned = (): string[] =>
    said.flatMap((message) =>
      message.type === 'learned'
        ? [`${message.port.split(':').at(-1)} ${message.channel} ${message.key ?? `cc${message.controller}`}`]
        : [],
    )
  return { watch, learner, heard, said, learned }
}

test(
  'over real ports: the show’s port plays on and is told once, others are told and not played, one plugged in later as well',
  REAL_PROCESSES,
  async () => {
    const keybed = instrument('Keybed')
    const pedals = instrument('Pedals')
    const { watch, learner, heard, said, learned } = learningBeside('Keybed')
    expect(watch.isOpen('keys')).toBe(true)
    learner.start()
    await connected()
    keybed.send(Uint8Array.of(0x90, 60, 100))
    pedals.send(Uint8Array.of(0xfe))
    pedals.send(Uint8Array.of(0xb9, 64, 127))
    pedals.send(Uint8Array.of(0x99, 38, 100))
    await eventually(() => learned().length >= 3)
    expect(learned().toSorted()).toEqual(['Keybed 1 60', 'Pedals 10 38', 'Pedals 10 cc64'])

    const wheel = instrument('Wheel')
    const open = world.outputs().length
    await eventually(() => world.outputs().length > open)
    await connected()
    wheel.send(Uint8Array.of(0xb2, 1, 9))
    await eventually(() => learned().includes('Wheel 3 cc1'))
    keybed.send(Uint8Array.of(0x90, 62, 100))
    await eventually(() => heard.length >= 2)
    expect(heard).toEqual([60, 62])
    expect(said.filter(({ type }) => type !== 'learned')).toEqual([])
  },
)

test(
  'after the end nothing is told, every port that was opened is closed, and the show’s port is still open',
  REAL_PROCESSES,
  async () => {
    const keybed = instrument('Keybed')
    const pedals = instrument('Pedals')
    const before = world.outputs().length
    const { watch, learner, heard, learned } = learningBeside('Keybed')
    const withShow = world.outputs().length
    learner.start()
    await connected()
    // The hidden end of each port that is open is listed in the world.
    expect([withShow, world.outputs().length]).toEqual([before + 1, before + 2])
    pedals.send(Uint8Array.of(0x90, 40, 100))
    await eventually(() => learned().length > 0)
    learner.stop()
    expect(world.outputs()).toHaveLength(withShow)
    pedals.send(Uint8Array.of(0x90, 41, 100))
    keybed.send(Uint8Array.of(0x90, 42, 100))
    await eventually(() => heard.length > 0)
    expect([learned(), heard, watch.isOpen('keys')]).toEqual([['Pedals 1 40'], [42], true])
  },
)
