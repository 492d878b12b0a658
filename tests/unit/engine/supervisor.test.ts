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
  /** What the last engine was asked, without the number of the request. */
  const asked = () =>
    last().got.flatMap((message): { readonly type: string }[] => {
      if (message.type === 'ping') return []
      if (message.type !== 'load' && message.type !== 'revise') return [message]
      const { request: _, ...rest } = message
      return [rest]
    })
  const request = (): number => {
    const message = last().got.findLast(({ type }) => type === 'load' || type === 'revise')
    return message && 'request' in message ? (message.request ?? -1) : -1
  }
  const takes = (song = 'tide', position: number | null = 0, answers = request()): void =>
    last().says({ v: 1, type: 'loaded', title: '', song, position, songs: [song], request: answers })
  return { engines, said, timers, supervisor, last, greet, loads, asked, request, takes }
}

test('an engine that greets is given the show', () => {
  const { supervisor, greet, loads } = setUp()
  supervisor.load({ text: '{}', rig: 'virtual', song: 'tide' })
  expect(loads()).toEqual([])
  greet()
  expect(loads()).toEqual([
    { v: 1, type: 'load', text: '{}', rig: 'virtual', song: 'tide', recover: true, request: 1 },
  ])
})

test('after a crash there is one new engine, however often the exit is told, with the song it was in', () => {
  const { engines, supervisor, greet, last, asked, takes, said } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
  greet()
  takes()
  last().says({ v: 1, type: 'song', song: 'dew', position: 1 })
  supervisor.send({ v: 1, type: 'choose-port', port: 'keys', place: 2 })
  const first = last()
  first.exit('SIGKILL')
  first.exit('SIGKILL')
  first.exit('code 0')
  expect(engines).toHaveLength(2)
  greet()
  expect(asked()[0]).toEqual({
    v: 1,
    type: 'load',
    text: '{}',
    rig: 'real',
    song: 'dew',
    position: 1,
    recover: true,
  })
  expect(last().got).toContainEqual({ v: 1, type: 'choose-port', port: 'keys', place: 2 })
  expect(said.filter(({ type }) => type === 'diagnostic')).toHaveLength(1)
})

test('an engine that crashes again and again is started more slowly, and not given up', () => {
  const { engines, supervisor, last, timers } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
  for (let crash = 0; crash < 5; crash++) last().exit()
  expect(engines).toHaveLength(6)
  last().exit()
  expect(engines).toHaveLength(6)
  timers.move(999)
  expect(engines).toHaveLength(6)
  timers.move(1)
  expect(engines).toHaveLength(7)
})

test('a show that comes during the pause after crashes starts the one engine there is, dark first', () => {
  const { engines, supervisor, last, timers, greet, loads } = setUp()
  supervisor.load({ text: 'first', rig: 'real' })
  for (let crash = 0; crash < 6; crash++) last().exit()
  expect(engines).toHaveLength(6)
  supervisor.load({ text: 'second', rig: 'real' })
  expect(engines).toHaveLength(7)
  greet()
  // Those before it may have left lamps lit.
  expect(loads()[0]).toMatchObject({ recover: true })
  expect(loads().at(-1)).toMatchObject({ text: 'second' })
  for (let second = 0; second < 30; second++) {
    timers.move(1000)
    last().says({ v: 1, type: 'alive', count: second })
  }
  expect(engines).toHaveLength(7)
})

test('an engine that does not answer is ended and replaced; one that does is left alone', () => {
  const { engines, supervisor, greet, last, timers } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
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
  one.supervisor.load({ text: '{}', rig: 'real' })
  one.greet()
  const stopped = one.supervisor.stop()
  expect(one.last().got.at(-1)).toEqual({ v: 1, type: 'stop' })
  one.last().says({ v: 1, type: 'stopped', clean: true })
  one.last().exit('code 0')
  expect(await stopped).toBe(true)
  expect(one.engines).toHaveLength(1)

  const two = setUp()
  two.supervisor.load({ text: '{}', rig: 'real' })
  const killed = two.supervisor.stop()
  two.timers.move(2000)
  expect(await killed).toBe(false)
  expect(two.engines).toHaveLength(1)
})

test('what an engine says that is not in the contract is reported, not passed on', () => {
  const { supervisor, last, said } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
  last().says({ v: 1, type: 'nonsense' })
  last().says({ v: 2, type: 'hello', pid: 1 })
  last().says('what')
  expect(
    said.map((message) => (message.type === 'diagnostic' ? message.diagnostic.code : message.type)),
  ).toEqual(['not-understood', 'not-understood', 'not-understood'])
})

test('an edit is what the next engine plays once this one has taken it, and is asked again where it had not', () => {
  const { supervisor, greet, takes, last, asked, said } = setUp()
  supervisor.load({ text: 'first', rig: 'virtual', take: 'TVRoZA==' })
  greet()
  takes('tide', 2)
  supervisor.revise('second')
  takes('dew', 3)
  supervisor.revise('third')
  last().exit()
  greet()
  const second = { v: 1, type: 'load', text: 'second', rig: 'virtual', song: 'dew', position: 3 } as const
  expect(asked()).toEqual([
    { ...second, take: 'TVRoZA==', recover: true },
    { v: 1, type: 'revise', text: 'third' },
  ])
  // The second engine ends over it as well: the edit is given up, and said so.
  last().exit()
  greet()
  expect(asked()).toEqual([{ ...second, take: 'TVRoZA==', recover: true }])
  expect(said.flatMap((one) => (one.type === 'diagnostic' ? [one.diagnostic.code] : []))).toEqual([
    'engine-ended',
    'engine-ended',
    'edit-dropped',
  ])
})

test('an edit that was refused is forgotten, also where an earlier one is taken after it', () => {
  const { supervisor, greet, takes, last, asked, request } = setUp()
  supervisor.load({ text: 'first', rig: 'real' })
  greet()
  takes()
  supervisor.revise('good')
  const good = request()
  supervisor.revise('bad')
  last().says({ v: 1, type: 'load-failed', message: 'no', request: request() })
  takes('tide', 0, good)
  last().exit()
  greet()
  expect(asked()).toEqual([
    { v: 1, type: 'load', text: 'good', rig: 'real', song: 'tide', position: 0, recover: true },
  ])
})

test('a show that could not be loaded leaves the one before it', () => {
  const { supervisor, greet, takes, last, asked, request } = setUp()
  supervisor.load({ text: 'first', rig: 'real' })
  greet()
  takes()
  supervisor.load({ text: 'other', rig: 'virtual' })
  last().says({ v: 1, type: 'load-failed', message: 'no', request: request() })
  last().exit()
  greet()
  expect(asked()).toMatchObject([{ type: 'load', text: 'first', rig: 'real' }])
})

test('before the engine greets nothing is sent to it; then all of it, in order, once', () => {
  const { supervisor, greet, asked } = setUp()
  supervisor.load({ text: 'first', rig: 'real' })
  supervisor.revise('second')
  expect(asked()).toEqual([])
  greet()
  expect(asked()).toEqual([
    { v: 1, type: 'load', text: 'first', rig: 'real', recover: true },
    { v: 1, type: 'revise', text: 'second' },
  ])
})

test('who watched goes on watching, and answers about ports are given again, but not to another show', () => {
  const { supervisor, greet, takes, last, asked } = setUp()
  supervisor.load({ text: 'first', rig: 'real' })
  greet()
  takes()
  supervisor.send({ v: 1, type: 'watch', monitor: true })
  supervisor.send({ v: 1, type: 'choose-port', port: 'keys', place: 1 })
  last().exit()
  greet()
  expect(asked().slice(1)).toEqual([
    { v: 1, type: 'choose-port', port: 'keys', place: 1 },
    { v: 1, type: 'watch', monitor: true },
  ])
  supervisor.load({ text: 'other', rig: 'real' })
  last().exit()
  greet()
  expect(asked().filter(({ type }) => type === 'choose-port')).toEqual([])
})

test('the rig is changed with show, song and take as they are', () => {
  const { supervisor, greet, takes, asked } = setUp()
  supervisor.load({ text: 'first', rig: 'real', take: 'TVRoZA==' })
  greet()
  takes('dew', 4)
  supervisor.changeRig('virtual')
  supervisor.changeRig('virtual')
  expect(asked().slice(1)).toEqual([
    { v: 1, type: 'load', text: 'first', rig: 'virtual', song: 'dew', position: 4, take: 'TVRoZA==' },
  ])
})

test('time in which the machine slept is not held against the engine', () => {
  const { engines, supervisor, greet, timers, last } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
  greet()
  timers.move(400)
  timers.skip(3_600_000)
  timers.move(500)
  expect(engines).toHaveLength(1)
  expect(last().got.at(-1)).toMatchObject({ type: 'ping' })
  timers.move(3_000)
  expect(engines).toHaveLength(2)
})

test('a tuning that was chosen for the song outlives a crash, and ends with a show that is loaded anew', () => {
  const { supervisor, greet, last, asked, takes } = setUp()
  supervisor.load({ text: '{}', rig: 'real' })
  greet()
  takes()
  last().says({ v: 1, type: 'tuned', tuning: 'just' })
  last().exit('SIGKILL')
  greet()
  expect(asked().at(-1)).toEqual({ v: 1, type: 'tune', tuning: 'just', retune: false })
  supervisor.load({ text: '{"other":1}', rig: 'real' })
  takes()
  last().exit('SIGKILL')
  greet()
  expect(asked().map(({ type }) => type)).not.toContain('tune')
})
