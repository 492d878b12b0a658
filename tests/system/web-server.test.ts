import { mkdirSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { PortTaken } from '../../app/engine/host/web/listeners.ts'
import type { WebServerOptions } from '../../app/engine/host/web/web-server.ts'
import { WebServer } from '../../app/engine/host/web/web-server.ts'
import { LONGEST_MESSAGE } from '../../src/contract/to-host.ts'
import type { Caller } from '../support/caller.ts'
import { call, enter, sendRaw } from '../support/caller.ts'
import { eventually } from '../support/eventually.ts'
import { scratchFolder } from '../support/scratch.ts'
import { StandingHost } from '../support/standing-host.ts'

interface House {
  readonly server: WebServer
  readonly host: StandingHost
  /** `127.0.0.1:PORT` */
  readonly at: string
  readonly key: string
}

/** A page, a script, and beside their folder something that is nobody's business. */
function screensFolder(): string {
  const folder = scratchFolder()
  const screens = join(folder, 'screens')
  mkdirSync(join(screens, 'assets'), { recursive: true })
  writeFileSync(join(screens, 'index.html'), '<!doctype html><title>screens</title>')
  writeFileSync(join(screens, 'assets', 'app-1.js'), 'export {}')
  writeFileSync(join(screens, 'notes.txt'), 'not for the page')
  writeFileSync(join(folder, 'secret.js'), 'secret')
  return screens
}

async function startHouse(options: Partial<WebServerOptions> = {}): Promise<House> {
  const host = new StandingHost()
  const server = await WebServer.start({
    host,
    screens: screensFolder(),
    port: 0,
    mayMove: false,
    isRemote: false,
    ...options,
  })
  onTestFinished(() => server.stop())
  const { host: at, hash } = new URL(server.address)
  return { server, host, at, key: hash.slice('#key='.length) }
}

function get(at: string, path: string, more = ''): Promise<string> {
  return sendRaw(at, `GET ${path} HTTP/1.1\r\nHost: ${at}\r\nConnection: close\r\n${more}\r\n`)
}

function statusOf(answer: string): number {
  return Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1])
}

test('the page and its files, each with its kind; the page is asked for anew each time, its files are kept', async () => {
  const { at } = await startHouse()
  const page = await get(at, '/')
  expect(page).toMatch(/^HTTP\/1\.1 200 /)
  expect(page).toContain('content-type: text/html; charset=utf-8\r\n')
  expect(page).toContain('cache-control: no-cache\r\n')
  expect(page).toContain('<title>screens</title>')
  const script = await get(at, '/assets/app-1.js')
  expect(script).toContain('content-type: text/javascript; charset=utf-8\r\n')
  expect(script).toContain('cache-control: private, max-age=31536000, immutable\r\n')
  const head = await sendRaw(at, `HEAD / HTTP/1.1\r\nHost: ${at}\r\nConnection: close\r\n\r\n`)
  expect(head).toContain('content-length: 37\r\n')
  expect(head).not.toContain('<title>')
})

test('every answer says what a page may do: files and a connection of its own, in no frame, and tells nobody where it was', async () => {
  const { at } = await startHouse()
  for (const answer of [
    await get(at, '/'),
    await get(at, '/nowhere'),
    await sendRaw(at, 'GET / HTTP/1.0\r\n\r\n'),
  ]) {
    expect(answer).toContain("content-security-policy: default-src 'none'; script-src 'self'; ")
    expect(answer).toMatch(/frame-ancestors 'none'/)
    expect(answer).not.toMatch(/unsafe-eval|script-src[^;]*unsafe|https?:/)
    expect(answer).toContain('x-content-type-options: nosniff\r\n')
    expect(answer).toContain('referrer-policy: no-referrer\r\n')
    expect(answer).toContain('cross-origin-opener-policy: same-origin\r\n')
    expect(answer).toContain('cross-origin-resource-policy: same-origin\r\n')
    expect(answer.toLowerCase()).not.toMatch(/access-control|x-powered-by|\nserver:/)
  }
})

test.each([
  '/../secret.js',
  '/..%2fsecret.js',
  '/%2e%2e/secret.js',
  '/assets/../../secret.js',
  '/assets/..%5c..%5csecret.js',
  '//secret.js',
  '/./index.html',
  '/assets',
  '/assets/',
  '/index.html/',
  '/INDEX.HTML',
  '/index.html%00.js',
  '/notes.txt',
  '/host',
  '/__proto__',
  '/constructor',
  'http://127.0.0.1/index.html',
  '*',
])('there is no file %s', async (path) => {
  const { at, server } = await startHouse()
  const answer = await get(at, path)
  expect(statusOf(answer)).toBe(404)
  expect(answer).not.toContain('secret')
  expect(server.refusals.words()).toBe('1 no such file')
})

test('only GET and HEAD; no host but by the address that was reached; no nonsense', async () => {
  const { at, server } = await startHouse()
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH', 'TRACE']) {
    const answer = await sendRaw(at, `${method} / HTTP/1.1\r\nHost: ${at}\r\nContent-Length: 0\r\n\r\n`)
    expect(statusOf(answer)).toBe(405)
    expect(answer).toContain('allow: GET, HEAD\r\n')
  }
  for (const host of ['rebound.example', `rebound.example:${at.split(':')[1]}`, '127.0.0.1', '127.0.0.1:1']) {
    expect(statusOf(await sendRaw(at, `GET / HTTP/1.1\r\nHost: ${host}\r\n\r\n`))).toBe(421)
  }
  expect(statusOf(await sendRaw(at, 'GET / HTTP/1.0\r\n\r\n'))).toBe(421)
  await sendRaw(at, 'lights on please\r\n\r\n')
  await sendRaw(at, `GET / HTTP/1.1\r\nHost: ${at}\r\nX: ${'x'.repeat(20_000)}\r\n\r\n`)
  expect(server.refusals.words()).toBe('6 no such file, 5 wrong host, 2 not understood')
  expect(statusOf(await get(at, '/'))).toBe(200)
})

test('a screen comes in with the key, is heard by the host, and hears it; when it goes the host is told', async () => {
  const { at, key, host } = await startHouse()
  const screen = await enter({ at }, { key })
  onTestFinished(() => screen.hangUp())
  expect(screen.of('welcome')).toMatchObject([{ key, place: 'browser', mayFiles: true }])
  screen.ask({ type: 'dark-all' })
  await eventually(() => host.asked.length > 0)
  expect(host.asked).toEqual([{ v: 1, type: 'dark-all' }])
  host.channels[0]?.send({ v: 1, type: 'dark' })
  await eventually(() => screen.of('dark').length === 1)
  await screen.hangUp()
  await eventually(() => host.gone === 1)
})

test('what cannot be sent at once is told as backlog, and a screen that never reads is let go before it fills the memory', async () => {
  const { at, key, host } = await startHouse()
  const deaf = await enter({ at }, { key })
  const good = await enter({ at }, { key })
  onTestFinished(async () => void (await Promise.all([deaf.hangUp(), good.hangUp()])))
  deaf.deafen()
  const [toDeaf, toGood] = host.channels
  const message = { v: 1, type: 'failed', what: 'test', message: 'x'.repeat(500_000) }
  for (let sent = 0; sent < 20; sent++) toDeaf?.send(message)
  expect(toDeaf?.backlog).toBeGreaterThan(1_000_000)
  expect(host.gone).toBe(0)
  for (let sent = 0; sent < 60; sent++) toDeaf?.send(message)
  await eventually(() => host.gone === 1)
  toGood?.send({ v: 1, type: 'dark' })
  await eventually(() => good.of('dark').length === 1)
})

test('a message as long as a show may be is read; a longer one ends the screen that sent it', async () => {
  const { at, key, host, server } = await startHouse()
  const screen = await enter({ at }, { key })
  onTestFinished(() => screen.hangUp())
  const wrap = (text: string): string => JSON.stringify({ v: 1, type: 'open-text', name: 'show', text })
  const most = LONGEST_MESSAGE - wrap('').length
  screen.send(wrap('x'.repeat(most)))
  await eventually(() => host.asked.length === 1)
  screen.send(wrap('x'.repeat(most + 1)))
  await eventually(() => screen.closed !== undefined)
  expect(screen.closed).toBe(1009)
  expect(host.asked).toHaveLength(1)
  expect(server.refusals.words()).toBe('1 too long')
})

test('eight may wait at the door, sixteen be connected; whoever comes in makes room at the door', async () => {
  const { at, key, server } = await startHouse()
  const callers: Caller[] = []
  onTestFinished(async () => void (await Promise.all(callers.map((one) => one.hangUp()))))
  for (let waiting = 0; waiting < 8; waiting++) callers.push(await call({ at }))
  expect((await call({ at })).status).toBe(503)
  for (const one of callers) one.ask({ type: 'enter', key })
  await eventually(() => callers.every((one) => one.of('welcome').length === 1))
  for (let more = 8; more < 16; more++) callers.push(await enter({ at }, { key }))
  expect(callers.every((one) => one.of('welcome').length === 1)).toBe(true)
  expect((await call({ at })).status).toBe(503)
  expect(server.refusals.words()).toBe('2 too many connections')
  await callers[0]?.hangUp()
  const late = await enter({ at }, { key })
  callers.push(late)
  expect(late.of('welcome')).toHaveLength(1)
})

test('only this machine is listened to unless other devices are wanted', async () => {
  const { server, host } = await startHouse()
  const { port } = new URL(server.address)
  const taken = createServer()
  // Nobody else has the port on any other address of this machine.
  await new Promise<void>((resolve, reject) => {
    taken.once('error', reject)
    taken.listen(Number(port), '127.0.0.2', resolve)
  })
  taken.close()
  expect(host.doors).toEqual([])
})

test('a port that is taken: the next one where none was asked for, else a refusal that says what to do', async () => {
  const { at, server } = await startHouse()
  const port = Number(at.split(':')[1])
  const next = await startHouse({ port, mayMove: true })
  const moved = Number(next.at.split(':')[1])
  expect(moved).toBeGreaterThan(port)
  expect(moved).toBeLessThanOrEqual(port + 50)
  await expect(startHouse({ port })).rejects.toThrow(PortTaken)
  await expect(startHouse({ port })).rejects.toThrow(/another program's.*--port/)
  expect(server.refusals.total).toBe(0)
})

test('it ends with everybody told, also those who do not answer, and gives its port back', async () => {
  const { at, key, server } = await startHouse()
  const screen = await enter({ at }, { key })
  const deaf = await enter({ at }, { key })
  deaf.deafen()
  await server.stop()
  await eventually(() => screen.closed !== undefined)
  expect(screen.closed).toBe(1001)
  await deaf.hangUp()
  const port = Number(at.split(':')[1])
  expect((await startHouse({ port })).at).toBe(at)
})
