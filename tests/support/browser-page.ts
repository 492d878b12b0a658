import { resolve } from 'node:path'
import type { Browser, Page, WebSocketRoute } from 'playwright-core'
import type { ToHost } from '../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { HostWord } from './house-words.ts'
import { serveFolder } from './serve-folder.ts'
import { until } from './until.ts'

const SCREENS = resolve(import.meta.dirname, '../../dist/screens')

/** The built screens as a browser has them: no bridge, a web socket to a host that is the test. */
export interface BrowserPage {
  readonly page: Page
  /** Everything asked so far, over all connections. */
  readonly asked: readonly ToHost[]
  /** Connections opened so far. */
  connections(): number
  say(...words: HostWord[]): void
  /** The host is gone, until `back`. */
  drop(): Promise<void>
  back(): void
  close(): Promise<void>
}

export interface BrowserPageOptions {
  readonly width?: number
  readonly height?: number
  readonly hash?: string
  /** What the host says to whoever enters; called each time. */
  readonly enter: (ask: Extract<ToHost, { type: 'enter' }>) => readonly HostWord[]
}

export async function openBrowserPage(
  browser: Browser,
  { width = 1280, height = 800, hash = '', enter }: BrowserPageOptions,
): Promise<BrowserPage> {
  const served = await serveFolder(SCREENS)
  const context = await browser.newContext({ viewport: { width, height }, reducedMotion: 'reduce' })
  const page = await context.newPage()
  const asked: ToHost[] = []
  let socket: WebSocketRoute | undefined
  let count = 0
  let isGone = false
  const send = (word: HostWord): void => socket?.send(JSON.stringify({ v: CONTRACT_VERSION, ...word }))
  await page.routeWebSocket(/\/host$/, (route) => {
    count += 1
    if (isGone) return void route.close()
    socket = route
    route.onMessage((text) => {
      const ask = JSON.parse(String(text)) as ToHost
      asked.push(ask)
      if (ask.type === 'enter') for (const word of enter(ask)) send(word)
    })
  })
  await page.goto(`${served.url}${hash}`)
  return {
    page,
    asked,
    connections: () => count,
    say: (...words) => words.forEach(send),
    drop: async () => {
      isGone = true
      await socket?.close()
    },
    back: () => {
      isGone = false
    },
    close: async () => {
      await context.close()
      await served.stop()
    },
  }
}

/** Waits until something was asked of the host. */
export function untilAsked(asked: readonly ToHost[], type: ToHost['type']): Promise<void> {
  return until(`"${type}" was asked`, () => asked.some((ask) => ask.type === type))
}
