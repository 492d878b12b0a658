import type { Browser, Page } from 'playwright-core'
import { expect, onTestFinished } from 'vitest'
import type { OpenProcess } from './open-process.ts'

/** What a row of the Stage's table of lamps says. */
export interface TableRow {
  readonly lamp: string
  /** `dark`, or player, part, note, Hz, cents and duty in words. */
  readonly words: readonly string[]
}

/** A page on a running `lanthorn open`, let in by the address it printed, its lamps as a table. */
export interface LivePage {
  readonly page: Page
  /** Goes to a room of the rail. */
  room(name: string): Promise<void>
  /** The Stage's table, of lamps that are lit. */
  lit(): Promise<TableRow[]>
}

export async function openLivePage(
  browser: Browser,
  open: OpenProcess,
  width = 1280,
  height = 800,
): Promise<LivePage> {
  const context = await browser.newContext({ viewport: { width, height } })
  onTestFinished(() => context.close())
  const page = await context.newPage()
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  onTestFinished(() => expect(faults).toEqual([]))
  await page.goto(`http://${open.at}/#key=${open.key}`)
  await page.getByRole('heading', { level: 1 }).waitFor()
  await page.getByRole('button', { name: 'As a table' }).waitFor()
  const cautions = page.getByText('Caution, before real lamps are lit')
  if (await cautions.isVisible()) {
    await cautions.click()
    await page.getByRole('button', { name: 'I have read this' }).click()
  }
  return {
    page,
    room: (name) => page.getByRole('navigation').getByRole('link', { name }).click(),
    async lit() {
      const table = page.locator('lan-lamp-table table')
      if (!(await table.isVisible())) await page.getByRole('button', { name: 'As a table' }).click()
      await table.waitFor()
      const rows = await page
        .locator('lan-lamp-table tbody tr')
        .evaluateAll<string[][], HasText>((found) =>
          found.map((row) =>
            [...row.children].map((cell) => cell.textContent.replaceAll(/\s+/g, ' ').trim()),
          ),
        )
      return rows.flatMap(([lamp = '', ...words]) => (DARK.includes(words[0] ?? '') ? [] : [{ lamp, words }]))
    },
  }
}

const DARK = ['dark', 'not heard of yet']

interface HasText {
  readonly children: Iterable<{ readonly textContent: string }>
}
