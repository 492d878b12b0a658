import { existsSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { chromium } from 'playwright-core'

const PATHS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

/** Debian's browser. Throws, with what to install, where there is none. */
export function startChromium(): Promise<Browser> {
  const path = process.env['CHROMIUM'] ?? PATHS.find((one) => existsSync(one))
  if (path === undefined) throw new Error('no browser to test with; apt-get install chromium')
  return chromium.launch({
    executablePath: path,
    args: [
      '--no-sandbox',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--disable-dev-shm-usage',
    ],
  })
}
