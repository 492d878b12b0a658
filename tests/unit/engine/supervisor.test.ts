import { expect, test } from 'vitest'
import { Supervisor } from '../../../app/engine/supervisor.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import { FakeEngine, FakeTimers } from '../../support/fake-engine.ts'

function setUp() {
  const engines: FakeEngine[] = []
  const said: FromEngine[] = []
  const timers = new FakeTimers()
  const supervisor = new Supervisor({
    spawn: () => {
      const engine = new FakeEngine()
      engines.push(engine)
      return engine
    },
    say: (message) => said.push(message),
    timers,
  })
  const last = (): FakeEngine => engines.at(-1) as FakeEngine
  const greet = (): void => last().says({ v: 1, type: 'hello', pid: 1 })
  const loads = () => last().got.filter(({ type }) => type === 'load')
  return { engines, said, timers, supervisor, last, greet, loads }
}

test('an engine that greets is given the show', () => {
  const { supervisor, greet, loads } = setUp()
  supervisor.load('{}', 'virtual', 'tide')
  expect(loads()).toEqual([])
  greet()
  expect(loads()).toEqual([{ v: 1, type: 'load', text: '{}', rig: 'virtual', song: 'tide', recover: false }])
})

test('after a crash there is one new engine, however often the exit is told, with the song it was in', () => {
  const { engines, supervisor, greet, last, loads, said } = setUp()
  supervisor.load('{}', 'real')
  greet()
  last().says({ v: 1, type: 'song', song: 'dew', position: 1 })
  supervisor.send({ v: 1, type: 'choose-port', port: 'keys', place: 2 })
  const first = last()
  first.exit('SIGKILL')
  first.exit('SIGKILL')
  first.exit('code 0')
  expect(engines).toHaveLength(2)
  greet()
  expect(loads()).toEqual([{ v: 1, type: 'load', text: '{}', rig: 'real', song: 'dew', recover: true }])
  expect(last().got).toContainEqual({ v: 1, type: 'choose-port', port: 'keys', place: 2 })
  expect(said.filter(({ type }) => type === 'diagnostic')).toHaveLength(1)
})

test('an engine that crashes again and again is started more slowly, and not given up', () => {
  const { engines, supervisor, last, timers } = setUp()
  supervisor.load('{}', 'real')
  for (let crash = 0; crash < 5; crash++) last().exit()
  expect(engines).toHaveLength(6)
  last().exit()
  expect(engines).toHaveLength(6)
  timers.move(999)
  expect(engines).toHaveLength(6)
  timers.move(1)
  expect(engines).toHaveLength(7)
})

test('an engine that does not answer is ended and replaced; one that does is left alone', () => {
  const { engines, supervisor, greet, last, timers } = setUp()
  supervisor.load('{}', 'real')
  greet()
  for (let second = 0; second < 10; second++) {
    timers.move(1000)
    last().says({ v: 1, type: 'alive', count: second })
  }
  expect(engines).toHaveLength(1)
  timers.move(3000)
  expect(engines[0]?.killed).toBe(1)
  expect(engines).toHaveLength(2)
})

test('stop asks, and waits; an engine that does not stop is ended', async () => {
  const one = setUp()
  one.supervisor.load('{}', 'real')
  one.greet()
  const stopped = one.supervisor.stop()
  expect(one.last().got.at(-1)).toEqual({ v: 1, type: 'stop' })
  one.last().says({ v: 1, type: 'stopped', clean: true })
  one.last().exit('code 0')
  expect(await stopped).toBe(true)
  expect(one.engines).toHaveLength(1)

  const two = setUp()
  two.supervisor.load('{}', 'real')
  const killed = two.supervisor.stop()
  two.timers.move(2000)
  expect(await killed).toBe(false)
  expect(two.engines).toHaveLength(1)
})

test('what an engine says that is not in the contract is reported, not passed on', () => {
  const { supervisor, last, said } = setUp()
  supervisor.load('{}', 'real')
  last().says({ v: 1, type: 'nonsense' })
  last().says({ v: 2, type: 'hello', pid: 1 })
  last().says('what')
  expect(
    said.map((message) => (message.type === 'diagnostic' ? message.diagnostic.code : message.type)),
  ).toEqual(['not-understood', 'not-understood', 'not-understood'])
})
