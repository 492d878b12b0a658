import { MessageChannel } from 'node:worker_threads'
import { expect, onTestFinished, test } from 'vitest'
import { portChannel } from '../../../app/engine/channel.ts'
import { Engine } from '../../../app/engine/engine.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../../src/contract/to-engine.ts'
import { eventually } from '../../support/eventually.ts'
import { MemoryMachine } from '../../support/memory-machine.ts'
import { glasshouse, glasshouseText } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

test('an engine does over a message port what it does over a process: greets, loads, refuses, stops', async () => {
  const { port1, port2 } = new MessageChannel()
  onTestFinished(() => port1.close())
  const said: FromEngine[] = []
  let ended = 0
  port1.on('message', (message) => said.push(message as FromEngine))
  const machine = new MemoryMachine(validShow(glasshouse()))
  const engine = new Engine(portChannel(port2), machine, () => ended++)
  const ask = (message: ToEngineInput): void => port1.postMessage(message)
  ask({ v: 1, type: 'load', text: '{', rig: 'real' })
  ask({ v: 1, type: 'load', text: glasshouseText(), rig: 'real', song: 'none' })
  ask({ v: 1, type: 'load', text: glasshouseText(), rig: 'real' })
  ask({ v: 1, type: 'song', song: 'none' })
  ask({ v: 1, type: 'ping', count: 7 })
  await eventually(() => said.some(({ type }) => type === 'alive'))
  const told = said.map(({ type }) => type)
  expect(told[0]).toBe('hello')
  expect(told.filter((type) => type === 'load-failed')).toHaveLength(2)
  expect(said.find(({ type }) => type === 'loaded')).toMatchObject({ song: 'tide', songs: ['tide'] })
  expect(said.find(({ type }) => type === 'not-understood')).toMatchObject({
    message: 'the show has no song "none"',
  })
  engine.stop()
  await machine.timers.pass(300_000)
  await eventually(() => ended === 1)
  await eventually(() => said.some(({ type }) => type === 'stopped'))
})
