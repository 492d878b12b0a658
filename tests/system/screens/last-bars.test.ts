import { mkdirSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { inPage } from '../../support/in-page.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

const SIZES = [
  [1280, 800],
  [820, 1180],
] as const
const SHOTS = resolve(import.meta.dirname, '../../../dist/screenshots')
const SHOW = demoShow()
/** Mist clock: 137.0625 beats a minute, five to the bar. */
const BEAT = 60e6 / 137.0625
const START = 10_000_000

let browser: Browser
beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true })
  browser = await startChromium()
})
afterAll(() => browser.close())

async function opened(
  run: (screen: ScreenPage) => Promise<void>,
  { song = 'mist', ...options }: { song?: string; width?: number; height?: number } = {},
): Promise<void> {
  // Without the canned lights: each test has its own.
  const first = houseWords(SHOW).filter(({ type }) => type !== 'lamps')
  const screen = await openScreenPage(browser, {
    ...options,
    hash: '#steps',
    first: [...first, { type: 'song', song, position: 1 }],
  })
  try {
    // What is said before the page listens is lost.
    await screen.page.locator('lan-last-bars').waitFor()
    await run(screen)
  } finally {
    await screen.close()
  }
}

/** All lamps at that beat of Mist clock; those that are not named are dark. */
function at(beat: number, ...lit: readonly (Partial<LampStatus> & { readonly lamp: string })[]): HostWord {
  return {
    type: 'lamps',
    at: Math.round(START + beat * BEAT),
    lamps: SHOW.rig.lamps.map(({ id }) => {
      const light = lit.find(({ lamp }) => lamp === id)
      return light
        ? { on: true, part: 'arc', player: 'keys', key: 69, duty: 0.25, ...light }
        : { lamp: id, on: false }
    }),
  }
}

/** Told one look after another, as the screen takes the last of what comes within a frame. */
async function told(screen: ScreenPage, words: readonly HostWord[]): Promise<void> {
  for (const word of words) {
    await screen.say(word)
    await screen.page.evaluate(
      'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))',
    )
  }
}

/** Pendulum over six beats, with the bass under it. */
const LINE: readonly HostWord[] = [
  at(0, { lamp: 'fern' }),
  at(1, { lamp: 'moss', key: 71 }, { lamp: 'palm', part: 'roots', player: 'bass', key: 33, duty: 0.5 }),
  at(
    2,
    { lamp: 'reed', key: 72, duty: 0.05 },
    { lamp: 'palm', part: 'roots', player: 'bass', key: 33, duty: 0.5 },
  ),
  at(3.5, { lamp: 'sedge', key: 72 }, { lamp: 'orchid', part: 'taps', player: 'pads', key: 62, duty: 0.4 }),
  at(6.25),
]

function row(screen: ScreenPage, lamp: string) {
  return screen.page.getByRole('row', { name: new RegExp(`^${lamp}`) })
}

describe('the last bars', () => {
  test('in a table: who lit each lamp last, on what, where in the bar, how long', () =>
    opened(async (screen) => {
      await row(screen, 'Fern').getByText('dark so far').waitFor()
      await told(screen, LINE)
      const said = async (lamp: string) => (await row(screen, lamp).innerText()).replace(/\s+/g, ' ').trim()
      await expect.poll(() => said('Fern')).toBe('Fern Keys arc A4 25 % bar 1, beat 1.0 1.00 beats')
      expect(await said('Palm')).toBe('Palm, by the tank Bass roots A1 50 % bar 1, beat 2.0 2.50 beats')
      expect(await said('Sedge')).toBe('Sedge Keys arc C5 25 % bar 1, beat 4.5 2.75 beats')
      expect(await said('Vine')).toBe('Vine, over the door dark so far')
    }))

  test('in a picture: where each light begins and ends, brighter with more duty', () =>
    opened(async (screen) => {
      await told(screen, LINE)
      const lights = () =>
        screen.page
          .locator('lan-last-bars rect.light')
          .evaluateAll((all) =>
            all.map((one) =>
              ['x', 'width', 'fill-opacity'].map((name) => Number.parseFloat(one.getAttribute(name) ?? '')),
            ),
          )
      await expect.poll(async () => (await lights()).length).toBe(6)
      // Four bars of five beats are the whole width.
      const beats = (await lights()).map(([x = 0, width = 0]) =>
        [x / 5, width / 5].map((one) => Math.round(one * 100) / 100),
      )
      expect(beats).toEqual([
        [0, 1],
        [1, 1],
        [1, 2.5],
        [2, 1.5],
        [3.5, 2.75],
        [3.5, 2.75],
      ])
      const opacity = (await lights()).map(([, , one]) => one ?? 0)
      expect(opacity[2]).toBeGreaterThan(opacity[0] ?? 0)
      expect(opacity[3]).toBeLessThan(opacity[0] ?? 0)
      const picture = screen.page.getByRole('img', { name: /^Bars 1 to 4: six lights on six lamps/ })
      expect(await picture.count()).toBe(1)
    }))

  test('go on by whole bars, and can be held', () =>
    opened(async (screen) => {
      const pictures = screen.page.getByRole('img', { name: /^Bars/ })
      await told(screen, LINE)
      await screen.page.getByRole('button', { name: 'Hold the picture' }).click()
      await told(screen, [at(31, { lamp: 'vine' })])
      await row(screen, 'Vine').getByText('dark so far').waitFor()
      await screen.page.getByRole('img', { name: /^Bars 1 to 4/ }).waitFor()
      await screen.page.getByRole('button', { name: 'Go on' }).click()
      await row(screen, 'Vine').getByText('bar 7, beat 2.0').waitFor()
      await screen.page.getByRole('img', { name: /^Bars 4 to 7: one light on one lamp/ }).waitFor()
      await screen.page.getByLabel('Bars shown').selectOption('8')
      await screen.page.getByRole('img', { name: /^Bars 1 to 8: seven lights/ }).waitFor()
      expect(await pictures.count()).toBe(1)
    }))

  test('begin anew with another song and with another engine', () =>
    opened(async (screen) => {
      await told(screen, LINE)
      await row(screen, 'Fern').getByText('A4').waitFor()
      await screen.say({ type: 'song', song: 'dew', position: 0 })
      await screen.page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
      await row(screen, 'Fern').getByText('dark so far').waitFor()
      await screen.say({ type: 'hello', pid: 7 })
      await told(screen, [{ ...at(0, { lamp: 'fern', part: 'lead' }), at: 500 } as HostWord])
      await row(screen, 'Fern').getByText('bar 1, beat 1.0').waitFor()
      expect(await row(screen, 'Moss').innerText()).toContain('dark so far')
    }))
})

describe('ways over the lamps', () => {
  test('of a part that travels', () =>
    opened(async (screen) => {
      const plate = screen.page.locator('lan-way-plate')
      await plate.getByText('Goes pendulum over its lamps.').waitFor()
      await plate.getByText('Moves every 1/4, 437.8 ms at this tempo.').waitFor()
      await plate.getByText('Covers 2 lamps at once.').waitFor()
      await plate.getByText('A lamp that is left sounds on for 15 ms.').waitFor()
      const way = await plate
        .getByRole('list', { name: 'Way of arc over its lamps' })
        .getByRole('listitem')
        .allInnerTexts()
      expect(way.map((name) => name.replace(/[\s→]+$/, ''))).toEqual([
        'Fern',
        'Moss',
        'Reed',
        'Sedge',
        'Ivy',
        'Palm, by the tank',
        'Lotus',
        'Vine, over the door',
        'Lotus',
        'Palm, by the tank',
        'Ivy',
        'Sedge',
        'Reed',
        'Moss',
      ])
      await plate.getByRole('link', { name: 'Change it in the sheet' }).click()
      await expect.poll(() => screen.page.url()).toContain('#sheet/mist/arc')
    }))

  test('there are none where every part waits to be played', () =>
    opened(
      async (screen) => {
        await screen.page.getByText('No part of this song moves by itself').waitFor()
        expect(await screen.page.locator('lan-way-plate').count()).toBe(0)
      },
      { song: 'dew' },
    ))
})

describe.each(SIZES)('at %i x %i', (width, height) => {
  test.each([
    ['last-bars', LINE],
    ['last-bars-dark', []],
  ] as const)('%s has no fault of access and no scroll sideways', (name, words) =>
    opened(
      async (screen) => {
        await screen.page.locator('lan-last-bars').waitFor()
        await told(screen, words)
        await screen.page
          .locator('lan-moving-light')
          .evaluate(inPage<void>('(node) => node.scrollIntoView()'))
        await screen.page.screenshot({ path: `${SHOTS}/${name}-${width}x${height}.png` })
        expect(await axeFaults(screen.page)).toEqual([])
        const isStill = await screen.page.evaluate<boolean>(
          `(() => { const main = document.querySelector('lan-app').shadowRoot.querySelector('main'); return main.scrollWidth <= main.clientWidth })()`,
        )
        expect(isStill).toBe(true)
      },
      { width, height },
    ),
  )
})

test('without a song, it says so', async () => {
  const screen = await openScreenPage(browser, { hash: '#steps' })
  await screen.page.getByText('No song plays.').waitFor()
  expect(await screen.page.locator('lan-last-bars').count()).toBe(0)
  await screen.close()
})
