import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { guardCounts } from '../../support/guard-counts.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { inPage } from '../../support/in-page.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'
import { shadowText } from '../../support/shadow-text.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

const ROOM = 'lan-monitor-room'
type Monitor = Extract<HostWord, { type: 'monitor' }>

const KINDS = [
  { way: 'in', source: 'keys', text: 'note-on A4 (69) velocity 80 on channel 1', bytes: '90 45 50' },
  { way: 'light', source: 'fern', text: 'lit at 440.00 Hz, duty 30 %' },
  { way: 'out', source: 'wire', text: 'Fern 440.00 Hz, duty 30 %' },
  { way: 'word', source: 'lead', text: 'a note gave up its lamp to a later one' },
] as const

/** Events `from` to `from + count`, ten milliseconds apart, of each way in turn. */
function events(count: number, from = 0, left = 0): Monitor {
  const made = Array.from({ length: count }, (_, index) => {
    const n = from + index
    const kind = KINDS[n % KINDS.length] ?? KINDS[0]
    return { at: 5_000_000 + n * 10_000, ...kind, text: `${kind.text}, number ${n}` }
  })
  return { type: 'monitor', at: 5_000_000 + (from + count) * 10_000, events: made, left }
}

async function open(size: readonly [number, number] = [1280, 800]): Promise<ScreenPage> {
  const [width, height] = size
  const screen = await openScreenPage(browser, { first: houseWords(), hash: '#monitor', width, height })
  await expect.poll(() => watches(screen)).toEqual([true])
  return screen
}

async function watches(screen: ScreenPage): Promise<boolean[]> {
  return (await screen.asked()).flatMap((one) => (one.type === 'watch' ? [one.monitor] : []))
}

function texts(screen: ScreenPage): Promise<string[]> {
  return screen.page.locator('lan-event-log tbody td:nth-child(4)').allInnerTexts()
}

async function last(screen: ScreenPage): Promise<string | undefined> {
  return (await texts(screen)).at(-1)?.replace(/^.*number /, '')
}

describe('watching', () => {
  test('while the room is shown, and no longer', async () => {
    const screen = await open()
    await screen.page.goto(screen.page.url().replace('#monitor', '#checks'))
    await screen.page.locator('lan-checks-room').waitFor()
    await expect.poll(() => watches(screen)).toEqual([true, false])
    await screen.page.goBack()
    await expect.poll(() => watches(screen)).toEqual([true, false, true])
    await screen.close()
  })

  test('not while the page is out of sight', async () => {
    const screen = await open()
    const turn = (hidden: boolean): Promise<unknown> =>
      screen.page.evaluate(
        `Object.defineProperty(document, 'hidden', { configurable: true, value: ${hidden} }); document.dispatchEvent(new Event('visibilitychange'))`,
      )
    await turn(true)
    await expect.poll(() => watches(screen)).toEqual([true, false])
    await turn(false)
    await expect.poll(() => watches(screen)).toEqual([true, false, true])
    await screen.close()
  })

  test('again, of a host that has come back', async () => {
    const screen = await open()
    await screen.say(...houseWords())
    await expect.poll(() => watches(screen)).toEqual([true, true])
    await screen.close()
  })
})

describe('the list', () => {
  test('time since the first, way, source, what, bytes; the last two hundred, the newest in sight', async () => {
    const screen = await open()
    await screen.say(events(30, 0, 12))
    await expect.poll(() => last(screen)).toBe('29')
    const lines = screen.page.locator('lan-event-log tbody tr')
    expect(await lines.nth(4).innerText()).toMatch(/^0\.040\s+in\s+keys\s+note-on A4 .*number 4\s+90 45 50$/)
    await screen.say(events(400, 30))
    await expect.poll(() => last(screen)).toBe('429')
    expect(await lines.count()).toBe(200)
    const room = screen.page.locator(ROOM)
    expect(await shadowText(room)).toContain('The last 200 of 430 are shown.')
    expect(await shadowText(room)).toContain('12 were too many to be told.')
    expect(await lines.last().isVisible()).toBe(true)
    const gap = await screen.page
      .locator('lan-event-log .roll')
      .evaluate(inPage<number>('(node) => node.scrollHeight - node.clientHeight - node.scrollTop'))
    expect(gap).toBeLessThan(2)
    await screen.close()
  })

  test('is a log that is not read out by itself', async () => {
    const screen = await open()
    const log = screen.page.getByRole('log', { name: 'Events' })
    expect(await log.getAttribute('aria-live')).toBe('off')
    // By keyboard too: it can be focused, and then scrolled.
    expect(await log.getAttribute('tabindex')).toBe('0')
    await screen.close()
  })

  test('sieves: way, source, text', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.say(events(40))
    await expect.poll(() => last(screen)).toBe('39')
    await room.getByRole('button', { name: 'word' }).click()
    await room.getByRole('button', { name: 'out' }).click()
    await expect.poll(() => last(screen)).toBe('37')
    expect(await texts(screen)).toHaveLength(20)
    await room.getByLabel('Source').selectOption('keys')
    await expect.poll(() => texts(screen)).toHaveLength(10)
    await room.getByLabel('Text contains').fill('NUMBER 3')
    await expect
      .poll(() => texts(screen))
      .toEqual([
        'note-on A4 (69) velocity 80 on channel 1, number 32',
        'note-on A4 (69) velocity 80 on channel 1, number 36',
      ])
    await room.getByLabel('Text contains').fill('nothing like that')
    await expect.poll(() => shadowText(room)).toContain('Nothing here passes the sieve.')
    await screen.close()
  })

  test('paused, events go on counting', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.say(events(10))
    await expect.poll(() => last(screen)).toBe('9')
    await room.getByRole('button', { name: 'Pause' }).click()
    // More than the page keeps, in batches as the engine sends them.
    for (let from = 10; from < 2510; from += 250) await screen.say(events(250, from))
    await expect.poll(() => room.getByRole('button', { name: 'Go on' }).innerText()).toBe('Go on, 2500 more')
    expect(await last(screen)).toBe('9')
    await room.getByRole('button', { name: 'Go on' }).click()
    await expect.poll(() => last(screen)).toBe('2509')
    await screen.close()
  })

  test('scrolled back, it stays where it is until the newest is wanted', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.say(events(300))
    await expect.poll(() => last(screen)).toBe('299')
    await screen.page.getByRole('log', { name: 'Events' }).focus()
    await screen.page.keyboard.press('Home')
    const button = room.getByRole('button', { name: 'To the newest' })
    await button.waitFor()
    await screen.say(events(43, 300))
    await expect.poll(() => button.innerText()).toBe('To the newest, 43 more')
    expect(await last(screen)).toBe('299')
    await button.click()
    await expect.poll(() => last(screen)).toBe('342')
    await screen.close()
  })

  test('cleared, it begins anew', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.say(events(10, 0, 5))
    await expect.poll(() => last(screen)).toBe('9')
    await room.getByRole('button', { name: 'Clear' }).click()
    await expect.poll(() => texts(screen)).toEqual([])
    expect(await shadowText(room)).toContain('Nothing has come yet.')
    expect(await shadowText(room)).not.toContain('too many')
    await screen.say(events(3, 20))
    await expect.poll(() => last(screen)).toBe('22')
    expect(await screen.page.locator('lan-event-log tbody tr').first().innerText()).toMatch(/^0\.000/)
    await screen.close()
  })

  test('copied, as text with tabs; also where the clipboard is not for pages', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.page.evaluate(
      `Object.defineProperty(navigator, 'clipboard', { configurable: true, value: { writeText: async (text) => void (window.testCopied = text) } })`,
    )
    await screen.say(events(2))
    await expect.poll(() => last(screen)).toBe('1')
    await room.getByRole('button', { name: 'Copy' }).click()
    await expect.poll(() => room.getByRole('status').innerText()).toBe('2 lines copied.')
    expect(await screen.page.evaluate('window.testCopied')).toBe(
      'time\tway\tsource\ttext\tbytes\n' +
        '0.000\tin\tkeys\tnote-on A4 (69) velocity 80 on channel 1, number 0\t90 45 50\n' +
        '0.010\tlight\tfern\tlit at 440.00 Hz, duty 30 %, number 1\t\n',
    )
    await screen.page.evaluate(
      `Object.defineProperty(navigator, 'clipboard', { configurable: true, value: undefined });
       document.addEventListener('copy', (event) => { const field = event.composedPath()[0]; window.testCopied = field.value })`,
    )
    await room.getByRole('button', { name: 'light' }).click()
    await room.getByRole('button', { name: 'Copy' }).click()
    await expect.poll(() => room.getByRole('status').innerText()).toBe('1 line copied.')
    expect(await screen.page.evaluate('window.testCopied')).toContain('number 0\t90 45 50\n')
    expect(await screen.page.locator(`${ROOM} textarea`).count()).toBe(0)
    await screen.close()
  })
})

describe('how long it takes', () => {
  test('the figures as bars and as tables', async () => {
    const screen = await open()
    const pane = screen.page.locator('lan-latency-picture')
    await expect.poll(() => shadowText(pane)).toContain('Latency')
    const rows = await pane.locator('tbody tr').allInnerTexts()
    expect(rows.map((row) => row.split(/\t/))).toEqual([
      ['Latency', '0.21', '0.42', '0.9', '1.4', '120'],
      ['Lateness', '0.09', '0.2', '0.3', '0.6', '40'],
      ['notes in', '72'],
      ['steals', '3'],
    ])
    const words = await pane.locator('svg[role=img]').getAttribute('aria-label')
    expect(words).toBe(
      'Latency of 120 inputs: 10 up to 0.128 ms, 70 up to 0.256 ms, 34 up to 0.512 ms, 5 up to 1.02 ms, 1 up to 2.05 ms.',
    )
    expect(await pane.locator('svg rect').count()).toBe(5)
    await screen.close()
  })
})

describe('how lamps flash', () => {
  test('nothing before the engine says so; then all together, and each that flashed', async () => {
    const screen = await open()
    const table = screen.page.locator('lan-flash-table')
    await expect.poll(() => shadowText(table)).toContain('Nothing is counted yet.')
    const fern = { lamp: 'fern', lastSecond: 2, perSecondMax: 5, bandSeconds: 1.25, under60Seconds: 3 }
    const counts = { lastSecond: 3, perSecondMax: 6, bandSeconds: 1.5, under60Seconds: 4 }
    await screen.say(guardCounts({ ...counts, lamps: [fern] }))
    await expect.poll(() => table.locator('tbody tr').count()).toBe(2)
    const rows = await table.locator('tbody tr').allInnerTexts()
    expect(rows.map((row) => row.split(/\t/))).toEqual([
      ['Any of them, or all as one light', '3', '6', '1.5', '4.0'],
      ['Fern', '2', '5', '1.3', '3.0'],
    ])
    expect(await shadowText(table)).toMatch(/3 flashes in any one second.*no verdict/s)
    await screen.close()
  })
})

describe('the Monitor room at its sizes', () => {
  test.each(ROOM_SIZES)('at %i by %i', async (width, height) => {
    const screen = await open([width, height])
    await screen.say(events(230, 0, 4))
    await expect.poll(() => last(screen)).toBe('229')
    expect(await overhang(screen.page)).toBeLessThanOrEqual(0)
    expect(await roomFaults(screen.page, ROOM)).toEqual([])
    await takePicture(screen.page, 'monitor')
    await scrollTo(screen.page, 'lan-latency-picture')
    await takePicture(screen.page, 'monitor-latency')
    await screen.close()
  })

  test('before anything came', async () => {
    const screen = await openScreenPage(browser, { hash: '#monitor' })
    await expect.poll(() => shadowText(screen.page.locator(ROOM))).toContain('The host is not reached now.')
    expect(await shadowText(screen.page.locator(ROOM))).toContain('Nothing is measured yet.')
    expect(await roomFaults(screen.page, ROOM)).toEqual([])
    await screen.close()
  })
})
