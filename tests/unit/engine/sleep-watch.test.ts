import { expect, test } from 'vitest'
import { Engine } from '../../../app/engine/engine.ts'
import { SleepWatch } from '../../../app/engine/sleep-watch.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import { MemoryMachine } from '../../support/memory-machine.ts'
import { glasshouse, glasshouseText } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'
import { VirtualTimers } from '../../support/virtual-timers.ts'

const MS = 1_000

function watched() {
  const timers = new VirtualTimers()
  const machine = { asleep: 0 }
  const slept: number[] = []
  const watch = new SleepWatch(
    timers,
    () => timers.now() + machine.asleep,
    (away) => slept.push(away),
  )
  return { timers, machine, slept, watch }
}

test('uptime that went on while the clock stood still is a sleep, told once', () => {
  const { timers, machine, slept } = watched()
  timers.run(10_000 * MS)
  machine.asleep += 3_600_000 * MS
  timers.run(10_000 * MS)
  expect(slept).toEqual([3_600_000 * MS])
})

test('a clock that went on as well, a second of rounding, and a sleep that was known are none', () => {
  const { timers, machine, slept, watch } = watched()
  timers.skip(60_000 * MS)
  timers.run(1_000 * MS)
  machine.asleep += 1_000 * MS
  timers.run(1_000 * MS)
  machine.asleep += 60_000 * MS
  watch.renew()
  timers.run(1_000 * MS)
  expect(slept).toEqual([])
})

test('an engine whose machine slept unseen by its clock: dark, told, and what is played next sounds', async () => {
  const show = validShow(glasshouse())
  const machine = new MemoryMachine(show)
  let asleep = 0
  const said: FromEngine[] = []
  let ask: (message: unknown) => void = () => {}
  const engine = new Engine(
    {
      send: (message) => void said.push(message as FromEngine),
      receive: (call) => (ask = call),
      closed: () => {},
    },
    Object.assign(machine, { uptime: () => machine.timers.now() + asleep }),
    () => {},
  )
  const keybed = machine.midiIn.plug('input', 'Keybed')
  ask({ v: 1, type: 'load', text: glasshouseText(), rig: 'real' })
  await machine.timers.pass(500 * MS)
  const lit = () =>
    machine.boxes
      .get('wire')
      ?.lamps()
      .filter(({ on }) => on).length
  keybed.deliver(Uint8Array.of(0x90, 60, 100))
  await machine.timers.pass(10 * MS)
  expect(lit()).toBe(1)
  asleep += 600_000 * MS
  await machine.timers.pass(250 * MS)
  expect(lit()).toBe(0)
  await machine.timers.pass(3_000 * MS)
  expect(lit()).toBe(0)
  const told = said.flatMap((message) => (message.type === 'diagnostic' ? [message.diagnostic.message] : []))
  expect(told).toEqual([expect.stringMatching(/slept for 600\.\d s; all lamps dark/)])
  keybed.deliver(Uint8Array.of(0x90, 64, 100))
  await machine.timers.pass(10 * MS)
  expect(lit()).toBe(1)
  engine.stop()
})
