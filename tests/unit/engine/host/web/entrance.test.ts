import { EventEmitter } from 'node:events'
import { PassThrough } from 'node:stream'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { WebSocket } from 'ws'
import { Door } from '../../../../../app/engine/host/web/door.ts'
import { Entrance } from '../../../../../app/engine/host/web/entrance.ts'
import { Refusals } from '../../../../../app/engine/host/web/refusals.ts'
import { countedSecrets } from '../../../../support/counted-secrets.ts'
import { StandingHost } from '../../../../support/standing-host.ts'

/** A socket whose other end the test plays. */
class PlayedSocket extends EventEmitter {
  readonly OPEN = 1
  readyState = 1
  bufferedAmount = 0
  readonly sent: { type: string }[] = []
  pings = 0
  ended: number | undefined

  send(text: string): void {
    this.sent.push(JSON.parse(text) as { type: string })
  }
  ping(): void {
    this.pings += 1
  }
  close(code: number): void {
    this.#end(code)
  }
  terminate(): void {
    this.#end(1006)
  }
  says(message: unknown): void {
    this.emit('message', Buffer.from(typeof message === 'string' ? message : JSON.stringify(message)), false)
  }
  #end(code: number): void {
    if (this.ended !== undefined) return
    this.ended = code
    this.readyState = 3
    this.emit('close', code)
  }
}

const host = (): StandingHost => new StandingHost()

function start(given = host()) {
  const refusals = new Refusals()
  const changed = vi.fn<() => void>()
  const door = new Door({ letsRemote: true, secrets: countedSecrets() })
  const now = (): number => Date.now()
  const entrance = new Entrance({ host: given, door, refusals, changed, now })
  const take = (isLoopback = true): PlayedSocket => {
    const socket = new PlayedSocket()
    entrance.take(socket as unknown as WebSocket, new PassThrough(), isLoopback)
    return socket
  }
  return { entrance, refusals, changed, door, take, host: given }
}

const ENTER = { v: 1, type: 'enter', key: 'key-0' }

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('whoever says nothing for ten seconds is turned away; whoever came in may be silent', () => {
  const { take, refusals } = start()
  const [silent, screen] = [take(), take()]
  screen.says(ENTER)
  vi.advanceTimersByTime(9_999)
  expect(silent.ended).toBeUndefined()
  vi.advanceTimersByTime(1)
  expect(silent.ended).toBe(1008)
  expect(screen.ended).toBeUndefined()
  expect(refusals.words()).toBe('1 nothing said')
})

test('every screen is pinged each ten seconds; one that answers nothing is dropped after thirty', () => {
  const { take, host: told } = start()
  const [dead, alive] = [take(), take()]
  for (const one of [dead, alive]) {
    one.says(ENTER)
    one.ping = () => {
      one.pings += 1
      if (one === alive) one.emit('pong')
    }
  }
  vi.advanceTimersByTime(30_000)
  expect([dead.pings, alive.pings]).toEqual([3, 3])
  expect(dead.ended).toBeUndefined()
  vi.advanceTimersByTime(10_000)
  expect(dead.ended).toBe(1006)
  vi.advanceTimersByTime(600_000)
  expect(alive.ended).toBeUndefined()
  expect(told.gone).toBe(1)
})

test('other devices get twelve places and six at the door, so that there is always room for this machine', () => {
  const { take, entrance, door } = start()
  const enter = (): void => take(false).says({ v: 1, type: 'enter', code: door.code })
  for (let waiting = 0; waiting < 6; waiting++) take(false)
  expect(entrance.hasRoom(false)).toBe(false)
  expect(entrance.hasRoom(true)).toBe(true)
  for (let more = 0; more < 2; more++) take(true)
  expect(entrance.hasRoom(true)).toBe(false)
  vi.advanceTimersByTime(10_000)
  for (let more = 0; more < 12; more++) enter()
  expect(entrance.remoteScreens).toBe(12)
  expect(entrance.hasRoom(false)).toBe(false)
  expect(entrance.hasRoom(true)).toBe(true)
})

test('another first word than enter, a second enter, and what comes after the door was shut', () => {
  const { take, refusals, host: told } = start()
  const rude = take()
  rude.says({ v: 1, type: 'dark-all' })
  rude.says(ENTER)
  expect(rude.ended).toBe(1008)
  const wrong = take()
  wrong.says({ ...ENTER, key: 'no' })
  wrong.says(ENTER)
  expect(wrong.sent).toMatchObject([{ type: 'no-entry' }])
  expect(wrong.ended).toBe(1008)
  const screen = take()
  screen.says(ENTER)
  screen.says(ENTER)
  expect(screen.sent).toMatchObject([{ type: 'welcome' }, { type: 'not-understood' }])
  expect(screen.ended).toBeUndefined()
  expect(told.channels).toHaveLength(1)
  expect(told.asked).toEqual([])
  expect(refusals.words()).toBe('2 not understood, 1 wrong key')
})

test('twenty things not understood are answered, the next within ten seconds ends it; spread out they are only answered', () => {
  const { take, refusals } = start()
  const [babbler, dull] = [take(), take()]
  for (const one of [babbler, dull]) one.says(ENTER)
  for (let count = 0; count < 20; count++) babbler.says('{"v":1,"type":"sing"}')
  expect(babbler.ended).toBeUndefined()
  babbler.says('not JSON')
  expect(babbler.ended).toBe(1008)
  expect(babbler.sent.filter(({ type }) => type === 'not-understood')).toHaveLength(21)
  for (let count = 0; count < 100; count++) {
    dull.says('[1,2')
    vi.advanceTimersByTime(501)
    dull.emit('pong')
  }
  expect(dull.ended).toBeUndefined()
  expect(refusals.total).toBe(121)
})

test('more than 200 messages or pings in a second end a screen; 200 each second do not', () => {
  const { take, refusals, host: told } = start()
  const [quick, flood, pinging] = [take(), take(), take()]
  for (const one of [quick, flood, pinging]) one.says(ENTER)
  for (let second = 0; second < 5; second++) {
    vi.advanceTimersByTime(1_000)
    for (let count = 0; count < 200; count++) quick.says({ v: 1, type: 'dark-all' })
  }
  expect(quick.ended).toBeUndefined()
  expect(told.asked).toHaveLength(1_000)
  for (let count = 0; count < 201; count++) flood.says({ v: 1, type: 'dark-all' })
  expect(flood.ended).toBe(1008)
  for (let count = 0; count < 201; count++) pinging.emit('ping')
  expect(pinging.ended).toBe(1008)
  expect(refusals.words()).toBe('2 too many messages')
})

test('nested without end, or a version that is no number, is told and ends nothing', () => {
  const { take } = start()
  const screen = take()
  screen.says(ENTER)
  screen.says(
    `{"v":1,"type":"edit","base":1,"label":"x","changes":${'['.repeat(100_000)}${']'.repeat(100_000)}}`,
  )
  screen.says('{"v":{"toString":null,"valueOf":null}}')
  expect(screen.sent.slice(1)).toMatchObject([{ type: 'not-understood' }, { type: 'not-understood' }])
  expect(screen.ended).toBeUndefined()
})

test('the end: everybody is told, and those who stay are dropped', async () => {
  const { take, entrance } = start()
  const [polite, stubborn] = [take(), take()]
  stubborn.close = () => {}
  entrance.close()
  expect(polite.ended).toBe(1001)
  let isEmpty = false
  void entrance.empty(1_000).then(() => (isEmpty = true))
  await vi.advanceTimersByTimeAsync(999)
  expect(isEmpty).toBe(false)
  await vi.advanceTimersByTimeAsync(1)
  expect(stubborn.ended).toBe(1006)
  expect(isEmpty).toBe(true)
})
