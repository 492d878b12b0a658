import { expect, onTestFinished, test } from 'vitest'
import type { Channel } from '../../../app/engine/channel.ts'
import { Engine } from '../../../app/engine/engine.ts'
import { MemoryMachine } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

test('ports asked for over and over are listed once, and once more for all who asked meanwhile', async () => {
  const machine = new MemoryMachine(validShow(glasshouse()))
  const said: string[] = []
  let ask = (_message: unknown): void => {}
  const channel: Channel = {
    send: (message) => said.push((message as { type: string }).type),
    receive: (call) => void (ask = call),
    closed: () => {},
  }
  const engine = new Engine(channel, machine, () => {})
  onTestFinished(() => engine.stop())
  const listed = (): number => said.filter((type) => type === 'ports').length
  for (let count = 0; count < 500; count++) ask({ v: 1, type: 'list-ports' })
  await machine.timers.pass(249_000)
  expect(listed()).toBe(1)
  await machine.timers.pass(10_000)
  expect(listed()).toBe(2)
  await machine.timers.pass(10_000_000)
  expect(listed()).toBe(2)
  ask({ v: 1, type: 'list-ports' })
  await machine.timers.pass(1_000)
  expect(listed()).toBe(3)
})
