import { resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { WebServer } from '../../app/engine/host/web/web-server.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { startChromium } from '../support/chromium.ts'
import { eventually } from '../support/eventually.ts'
import { houseWords } from '../support/house-words.ts'
import { StandingHost } from '../support/standing-host.ts'

const SCREENS = resolve(import.meta.dirname, '../../dist/screens')
const ROOMS = ['stage', 'sheet', 'steps', 'tuning', 'rig', 'checks', 'monitor', 'start']

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

/** A host whose screens are told of the demo, its server, and a page that notes whatever is amiss. */
async function openPage(): Promise<{ page: Page; host: StandingHost; server: WebServer; amiss: string[] }> {
  const host = new StandingHost()
  const server = await WebServer.start({ host, screens: SCREENS, port: 0, mayMove: false, isRemote: false })
  onTestFinished(() => server.stop())
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  onTestFinished(() => page.close())
  const amiss: string[] = []
  page.on('pageerror', (error) => amiss.push(error.message))
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) amiss.push(message.text())
  })
  page.on('requestfailed', (request) => amiss.push(request.url()))
  return { page, host, server, amiss }
}

test('under its content policy the page comes up, takes the key out of the address, and shows every room', async () => {
  const { page, host, server, amiss } = await openPage()
  await page.goto(server.address)
  await eventually(() => host.channels.length === 1)
  for (const message of houseWords()) host.channels[0]?.send({ v: CONTRACT_VERSION, ...message })
  for (const room of ROOMS) {
    await page.evaluate(`location.hash = ${JSON.stringify(room)}`)
    await page.locator('h1').first().waitFor()
  }
  expect(page.url()).not.toContain('key')
  expect(amiss).toEqual([])
  expect(server.refusals.words()).toBe('')
})

test('the policy holds: no code from text, no style sheet in the page, no way to anywhere else', async () => {
  const { page, server } = await openPage()
  await page.goto(server.address)
  const tried = await page.evaluate<Record<string, string>>(`(async () => {
    const outcome = {}
    const attempt = async (what, call) => {
      try { outcome[what] = String(await call()) } catch (error) { outcome[what] = error.name }
    }
    // Later, since what a debugger calls may make code from text.
    await attempt('eval', () => new Promise((resolve, reject) => setTimeout(() => {
      try { resolve((0, eval)('1 + 1')) } catch (error) { reject(error) }
    })))
    await attempt('html', () => { document.body.innerHTML = '<p>x</p>'; return 'done' })
    await attempt('elsewhere', () => fetch('http://127.0.0.1:9/').then(() => 'done'))
    await attempt('style', () => {
      const style = document.createElement('style')
      style.textContent = ':root { --tried: 1 }'
      document.head.append(style)
      return getComputedStyle(document.documentElement).getPropertyValue('--tried') || 'none'
    })
    return outcome
  })()`)
  expect(tried).toEqual({ eval: 'EvalError', html: 'TypeError', elsewhere: 'TypeError', style: 'none' })
})

test('a reload comes in again by itself; a page without the key is told what to do', async () => {
  const { page, host, server } = await openPage()
  await page.goto(server.address)
  await eventually(() => host.channels.length === 1)
  await page.reload()
  await eventually(() => host.channels.length === 2 && host.gone === 1)
  expect(server.refusals.words()).toBe('')
  const stranger = await openPageOf(server)
  await eventually(() => server.refusals.words() === '1 no key')
  expect(host.channels).toHaveLength(2)
  await stranger.close()
})

async function openPageOf(server: WebServer): Promise<Page> {
  const context = await browser.newContext()
  onTestFinished(() => context.close())
  const page = await context.newPage()
  await page.goto(new URL(server.address).origin)
  return page
}
