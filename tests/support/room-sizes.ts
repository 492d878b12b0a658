import { mkdirSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Page } from 'playwright-core'
import { axeFaults } from './axe.ts'
import { inPage } from './in-page.ts'

/** The sizes that a room must work at: a laptop, and a tablet upright; lying down it is looked at with the real host (`live-screens/rooms.test.ts`). */
export const ROOM_SIZES = [
  [1280, 800],
  [820, 1180],
] as const

const SHOTS = resolve(import.meta.dirname, '../../dist/screenshots')

/** A picture of the page as it is now, for people to look at: `NAME-WIDTHxHEIGHT.png` in `dist/screenshots`. */
export async function takePicture(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true })
  const { width, height } = page.viewportSize() ?? { width: 0, height: 0 }
  await page.screenshot({ path: resolve(SHOTS, `${name}-${width}x${height}.png`) })
}

/** Scrolls the room so that what `locator` finds stands at its top. */
export async function scrollTo(page: Page, locator: string): Promise<void> {
  await page.locator(locator).first().evaluate(inPage<void>('(node) => node.scrollIntoView()'))
}

/** What axe-core finds in a room's element; the frame around it has tests of its own. */
export async function roomFaults(page: Page, element: string): Promise<string[]> {
  return (await axeFaults(page)).filter((fault) => fault.includes(element))
}

/** By how many pixels the page is larger than its window, or the room in it is wider than there is room for: only rooms scroll, and only down. */
export function overhang(page: Page): Promise<number> {
  return page.evaluate<number>(`(() => {
    const main = document.querySelector('lan-app').shadowRoot.querySelector('main')
    const page = document.documentElement
    const wide = (box) => box.scrollWidth - box.clientWidth
    return Math.max(wide(page), page.scrollHeight - page.clientHeight, wide(main))
  })()`)
}
