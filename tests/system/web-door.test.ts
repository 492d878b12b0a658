import { networkInterfaces } from 'node:os'
import { expect, onTestFinished, test } from 'vitest'
import type { CallOptions, Caller } from '../support/caller.ts'
import { call, enter, sendRaw } from '../support/caller.ts'
import { eventually } from '../support/eventually.ts'
import type { OpenProcess } from '../support/open-process.ts'
import { startOpen } from '../support/open-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

interface House {
  readonly open: OpenProcess
  /** A screen of this machine, which is in and sees the lamps. */
  readonly good: Caller
  /** How many were turned away, as the good screen is told. */
  refused(): number
  /** The attacker: an own connection, gone with the test. */
  call(options?: Partial<CallOptions>): Promise<Caller>
  enter(pass: { key?: string; code?: string }, options?: Partial<CallOptions>): Promise<Caller>
}

async function startHouse(): Promise<House> {
  const open = await startOpen('--remote')
  await eventually(() => /^Code: /m.test(open.out()))
  const { at, key } = open
  const kept = <T extends Caller>(caller: T): T => {
    onTestFinished(() => caller.hangUp())
    return caller
  }
  const good = kept(await enter({ at }, { key }))
  await eventually(() => good.of('remote').length > 0 && lampsChange(good), 20_000)
  return {
    open,
    good,
    refused: () => good.of('remote').at(-1)?.refused ?? 0,
    call: async (options) => kept(await call({ at, ...options })),
    enter: async (pass, options) => kept(await enter({ at, ...options }, pass)),
  }
}

/** Whether two of the lists of lamps said so far differ. */
function lampsChange(screen: Caller): boolean {
  const pictures = screen.of('lamps').map(({ lamps }) => JSON.stringify(lamps))
  return new Set(pictures).size > 1
}

/** The good screen has noticed nothing: it is connected, nothing was said to it but by the demo, and the lamps go on. */
async function expectUnmoved({ good }: House): Promise<void> {
  const [before, dark] = [good.of('lamps').length, good.of('dark').length]
  await eventually(
    () =>
      new Set(
        good
          .of('lamps')
          .slice(before)
          .map((one) => JSON.stringify(one.lamps)),
      ).size > 2,
  )
  expect(good.closed).toBeUndefined()
  expect(dark).toBe(0)
  expect(good.of('diagnostic').filter(({ diagnostic }) => diagnostic.level === 'fault')).toEqual([])
  expect(good.of('stopped')).toEqual([])
  expect(good.of('not-understood')).toEqual([])
  expect(good.of('hello')).toHaveLength(1)
}

const REBOUND = 'rebound.example'

test(
  'connections that are no page of ours are refused with a status and counted; the good screen notices nothing',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { at } = house.open
    const port = at.split(':')[1]
    const tries: [Partial<CallOptions>, number][] = [
      [{ origin: null }, 403],
      [{ origin: 'null' }, 403],
      [{ origin: `http://${REBOUND}` }, 403],
      [{ origin: `http://${at}.${REBOUND}` }, 403],
      [{ origin: `https://${at}` }, 403],
      [{ origin: 'http://127.0.0.1:1' }, 403],
      [{ origin: `http://localhost:${port}` }, 403],
      [{ host: `${REBOUND}:${port}` }, 421],
      [{ host: `${REBOUND}:${port}`, origin: `http://${at}` }, 421],
      [{ host: '127.0.0.1' }, 421],
      [{ path: '/' }, 404],
      [{ path: '/host/' }, 404],
      [{ path: '/host?key=x' }, 404],
      [{ path: '//host' }, 404],
    ]
    for (const [options, status] of tries) expect((await house.call(options)).status).toBe(status)
    await eventually(() => house.refused() === tries.length)
    await expectUnmoved(house)
  },
)

test('requests for what is none of their business are refused and counted', REAL_PROCESSES, async () => {
  const house = await startHouse()
  const { at } = house.open
  const ask = async (line: string, host = at): Promise<number> => {
    const answer = await sendRaw(
      at,
      `${line} HTTP/1.1\r\nHost: ${host}\r\nContent-Length: 0\r\nConnection: close\r\n\r\n`,
    )
    expect(answer).not.toMatch(/lanthorn-show|"dependencies"|root:/)
    return Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1])
  }
  expect(await ask('GET /')).toBe(200)
  const ways = [
    '/../cli.js',
    '/..%2fcli.js',
    '/../../package.json',
    '/assets/../../cli.js',
    '/%2e%2e/%2e%2e/assets/shows/glasshouse.json',
    '/..%5c..%5cpackage.json',
    '//etc/passwd',
    '/assets/%00',
    'file:///etc/passwd',
  ]
  for (const way of ways) expect(await ask(`GET ${way}`)).toBe(404)
  expect(await ask('POST /')).toBe(405)
  expect(await ask('POST /host')).toBe(405)
  expect(await ask('GET /', REBOUND)).toBe(421)
  await eventually(() => house.refused() === ways.length + 3)
  await expectUnmoved(house)
})

test(
  "no key, a wrong key, this machine's key from the network: no entry, counted",
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { key } = house.open
    const network = house.open.networkAt()
    const tries = [
      await house.enter({}),
      await house.enter({ key: '' }),
      await house.enter({ key: `${key.slice(0, -1)}${key.endsWith('A') ? 'B' : 'A'}` }),
      await house.enter({ key: key.slice(0, -1) }),
      await house.enter({ key: `${key} ` }),
      await house.enter({ key }, { at: network }),
      await house.enter({}, { at: network }),
    ]
    for (const one of tries) {
      expect(one.said.map(({ type }) => type)).toEqual(['no-entry'])
      expect(one.closed).toBe(1008)
    }
    await eventually(() => house.refused() === tries.length)
    expect((await house.enter({ key })).of('welcome')).toMatchObject([{ place: 'browser', mayFiles: true }])
    await expectUnmoved(house)
  },
)

test(
  'a code lets one device in, which comes back by its own key; the code itself is used up, and a new one is shown',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { open, good } = house
    const at = open.networkAt()
    const code = open.code()
    expect(good.of('remote').at(-1)).toMatchObject({
      addresses: expect.arrayContaining([at]),
      code,
      screens: 0,
    })
    const device = await house.enter({ code }, { at })
    const [welcome] = device.of('welcome')
    expect(welcome).toMatchObject({ place: 'remote', mayFiles: false })
    expect(welcome?.key).not.toBe(open.key)
    await eventually(() => lampsChange(device))
    // The code is for those who stand at the host.
    expect(device.of('remote')).toEqual([])
    await eventually(() => open.code() !== code && good.of('remote').at(-1)?.code === open.code())
    expect(good.of('remote').at(-1)).toMatchObject({ screens: 1, refused: 0 })
    expect((await house.enter({ code }, { at })).of('no-entry')).toMatchObject([{ again: 0 }])
    await device.hangUp()
    await eventually(() => good.of('remote').at(-1)?.screens === 0)
    const own = { key: welcome?.key ?? '' }
    expect((await house.enter(own, { at })).of('welcome')).toMatchObject([{ place: 'remote', ...own }])
    // Also from this machine it is a device, and touches no files.
    const here = await house.enter(own)
    expect(here.of('welcome')).toMatchObject([{ place: 'remote', mayFiles: false }])
    here.ask({ type: 'save', path: '/tmp/never.json' })
    await eventually(() => here.of('refused').length === 1)
    expect(here.of('saved')).toEqual([])
    await eventually(() => house.refused() === 1)
    await expectUnmoved(house)
  },
)

test(
  'five wrong codes close the door to codes, the right one too, and a new code is shown; keys still come in',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { open } = house
    const at = open.networkAt()
    const code = open.code()
    const wrong = String((Number(code) + 1) % 1_000_000).padStart(6, '0')
    const again: number[] = []
    for (let tries = 0; tries < 6; tries++) {
      const [answer] = (await house.enter({ code: wrong }, { at })).of('no-entry')
      again.push(answer?.again ?? -1)
    }
    expect(again.slice(0, 5)).toEqual([0, 0, 0, 0, 30_000])
    expect(again[5]).toBeGreaterThan(20_000)
    await eventually(() => open.code() !== code)
    for (const closed of [code, open.code()]) {
      const late = await house.enter({ code: closed }, { at })
      expect(late.of('welcome')).toEqual([])
      expect(late.of('no-entry')[0]?.message).toMatch(/Too many wrong codes; try again in \d+ s/)
    }
    // From wherever it comes.
    expect((await house.enter({ code: open.code() })).of('no-entry')).toHaveLength(1)
    expect((await house.enter({ key: open.key })).of('welcome')).toHaveLength(1)
    await eventually(() => house.refused() === 9)
    await expectUnmoved(house)
  },
)

test(
  'before entry: too long, binary, not JSON, unknown, another version, another ask first; each closes and is counted',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { key } = house.open
    const long = JSON.stringify({ v: 1, type: 'enter', key: 'x'.repeat(5_000) })
    const tries: [string | Uint8Array, number][] = [
      [long, 1009],
      ['x'.repeat(5_000_000), 1009],
      [Buffer.from(JSON.stringify({ v: 1, type: 'enter', key })), 1003],
      ['let me in', 1008],
      ['{"v":1,"type":"sing"}', 1008],
      [`{"v":2,"type":"enter","key":"${key}"}`, 1008],
      ['{"v":1,"type":"dark-all"}', 1008],
      [`{"v":1,"type":"enter","key":"${key}","also":1}`, 1008],
      ['', 1008],
    ]
    for (const [message, code] of tries) {
      const attacker = await house.call()
      attacker.send(message)
      await eventually(() => attacker.closed !== undefined)
      expect([String(message).slice(0, 40), attacker.closed]).toEqual([String(message).slice(0, 40), code])
      expect(attacker.of('welcome')).toEqual([])
    }
    // The beginning of a message of three million bytes (RFC 6455, 5.2), sent with the opening.
    const header = '\u0081\u00ff\0\0\0\0\0\u002d\u00c6\u00c0mask'
    await sendRaw(house.open.at, `${upgrade(house.open.at)}${header}${'x'.repeat(6_000)}`)
    await eventually(() => house.refused() === tries.length + 1)
    await expectUnmoved(house)
  },
)

test(
  'after entry: not JSON, unknown and malformed are answered, and end it when there are too many; too long and binary end it',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { key } = house.open
    const screen = await house.enter({ key })
    const odd = [
      'let there be',
      '{"v":1,"type":"sing"}',
      '{"v":1,"type":"song"}',
      '{"v":1,"type":"song","song":"dew","x":1}',
      '[[[[[[',
      'null',
    ]
    for (const message of odd) screen.send(message)
    await eventually(() => screen.of('not-understood').length === odd.length)
    expect(screen.closed).toBeUndefined()
    for (let more = 0; more < 20; more++) screen.send('la')
    await eventually(() => screen.closed !== undefined)
    expect(screen.closed).toBe(1008)
    await eventually(() => house.refused() === 21)

    const long = await house.enter({ key })
    long.send(JSON.stringify({ v: 1, type: 'open-text', name: 'x', text: 'x'.repeat(4_000_000) }))
    await eventually(() => long.closed !== undefined)
    expect(long.closed).toBe(1009)
    const binary = await house.enter({ key })
    binary.send(Buffer.from('{"v":1,"type":"dark-all"}'))
    await eventually(() => binary.closed !== undefined)
    expect(binary.closed).toBe(1003)
    await eventually(() => house.refused() === 23)
    await expectUnmoved(house)
  },
)

test(
  'floods: of messages, of connections, of requests; who floods is turned away, the good screen plays on',
  REAL_PROCESSES,
  async () => {
    const house = await startHouse()
    const { at, key } = house.open
    const flood = await house.enter({ key })
    for (let count = 0; count < 5_000; count++) flood.ask({ type: 'list-ports' })
    await eventually(() => flood.closed !== undefined)
    // 1006: it was dropped, since what it sent besides kept it from answering the closing in time.
    expect([1006, 1008]).toContain(flood.closed)
    const crowd = await Promise.all(Array.from({ length: 40 }, () => house.call()))
    expect(crowd.filter(({ status }) => status === 503).length).toBeGreaterThanOrEqual(32)
    await Promise.all(crowd.map((one) => one.hangUp()))
    await Promise.all(
      Array.from({ length: 60 }, () => sendRaw(at, `GET /x HTTP/1.1\r\nHost: ${at}\r\n\r\n`).catch(() => '')),
    )
    await eventually(() => house.refused() >= 90)
    await expectUnmoved(house)
    house.good.ask({ type: 'go', to: 'next' })
    await eventually(() => house.good.of('song').length > 0)
  },
)

test('a shut door has no code and listens on no network', REAL_PROCESSES, async () => {
  const address = ownNetworkAddress()
  const open = await startOpen()
  const port = open.at.split(':')[1]
  await expect(sendRaw(`${address}:${port}`, 'GET / HTTP/1.1\r\n\r\n')).rejects.toThrow('ECONNREFUSED')
  const answer = await enter({ at: open.at }, { code: '000000' })
  expect(answer.of('no-entry')).toHaveLength(1)
  const screen = await enter({ at: open.at }, { key: open.key })
  expect(screen.of('remote')).toEqual([])
  await eventually(() => lampsChange(screen), 20_000)
  await screen.hangUp()
  expect(await open.interrupt()).toBe(0)
  expect(open.out()).toContain('Turned away: 1 no key')
})

function ownNetworkAddress(): string {
  const addresses = Object.values(networkInterfaces()).flatMap((all) => all ?? [])
  const found = addresses.find(({ family, internal }) => family === 'IPv4' && !internal)
  if (!found) throw new Error('this machine is on no network; the test needs one')
  return found.address
}

/** The opening of a web socket by a page of ours (RFC 6455, 1.2). */
function upgrade(at: string): string {
  return [
    'GET /host HTTP/1.1',
    `Host: ${at}`,
    `Origin: http://${at}`,
    'Upgrade: websocket',
    'Connection: Upgrade',
    'Sec-WebSocket-Version: 13',
    'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
    '\r\n',
  ].join('\r\n')
}
