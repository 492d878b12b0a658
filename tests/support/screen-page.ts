import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import type { FromHost } from '../../src/contract/from-host.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { serveFolder } from './serve-folder.ts'

const HOST = readFileSync(resolve(import.meta.dirname, 'screen-page-host.js'), 'utf8')
const SCREENS = resolve(import.meta.dirname, '../../dist/screens')

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never

/** The built screens in a browser, with a host that says what the test says and notes what it is asked. */
export interface ScreenPage {
  readonly page: Page
  /** Everything asked so far, `enter` among it. */
  asked(): Promise<ToHost[]>
  /** Says something as the host. */
  say(...messages: WithoutVersion<FromHost>[]): Promise<void>
  close(): Promise<void>
}

export interface ScreenPageOptions {
  readonly width?: number
  readonly height?: number
  /** After the address, such as `#sheet`. */
  readonly hash?: string
  /** What the screen's clock goes by, such as `Pacific/Auckland`. */
  readonly timezoneId?: string
  /** Said at once when the page enters. */
  readonly first?: readonly WithoutVersion<FromHost>[]
}

/** Opens the page as a window of the desktop app would see it: the bridge is the test's. */
export async function openScreenPage(
  browser: Browser,
  { width = 1280, height = 800, hash = '', first = [], timezoneId }: ScreenPageOptions = {},
): Promise<ScreenPage> {
  const served = await serveFolder(SCREENS)
  const context = await browser.newContext({
    viewport: { width, height },
    reducedMotion: 'reduce',
    ...(timezoneId === undefined ? {} : { timezoneId }),
  })
  const page = await context.newPage()
  page.on('pageerror', (error) => process.stderr.write(`page: ${error.stack ?? error.message}\n`))
  const versioned = first.map((message) => ({ v: CONTRACT_VERSION, ...message }))
  await page.addInitScript(`{ const testFirstWords = ${JSON.stringify(versioned)}; ${HOST} }`)
  await page.goto(`${served.url}${hash}`)
  return {
    page,
    asked: () => page.evaluate<ToHost[]>('testHost.asked'),
    say: (...messages) => {
      const words = messages.map((message) => ({ v: CONTRACT_VERSION, ...message }))
      return page.evaluate(`testHost.say(${JSON.stringify(words)})`)
    },
    close: async () => {
      await context.close()
      await served.stop()
    },
  }
}
