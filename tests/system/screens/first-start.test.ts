import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { ToHost } from '../../../src/contract/to-host.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, roomFaults, takePicture } from '../../support/room-sizes.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

const PORTS: HostWord = {
  type: 'ports',
  midiIn: ['Keybed 20:0', 'Pads 24:0'],
  midiOut: ['Lamp box 28:0'],
  serial: ['/dev/ttyUSB0 (lamp works)'],
  trouble: [],
}

function theShow(changes: Partial<Extract<HostWord, { type: 'show' }>> = {}): HostWord {
  const word = houseWords().find(({ type }) => type === 'show')
  if (word?.type !== 'show') throw new Error('no show is said')
  return { ...word, ...changes }
}

async function withStart(
  work: (screen: ScreenPage, page: Page) => Promise<void>,
  more: readonly HostWord[] = [PORTS],
  size: readonly [number, number] = [1280, 800],
): Promise<void> {
  const [width, height] = size
  const first = [...houseWords(), ...more]
  const screen = await openScreenPage(browser, { first, hash: '#start', width, height })
  try {
    await question(screen.page, 'What plays?')
    await work(screen, screen.page)
  } finally {
    await screen.close()
  }
}

async function question(page: Page, words: string): Promise<void> {
  await page.getByRole('heading', { name: words, level: 2 }).waitFor()
}

const goOn = (page: Page) => page.getByRole('button', { name: 'Go on' }).click()

async function asks<Type extends ToHost['type']>(
  screen: ScreenPage,
  type: Type,
): Promise<Extract<ToHost, { type: Type }>[]> {
  const asked = await screen.asked()
  return asked.filter((one): one is Extract<ToHost, { type: Type }> => one.type === type)
}

/** Tab, until what has that name has the focus; throws where it never does. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  const passed: string[] = []
  for (let tabs = 0; tabs < 80; tabs++) {
    const now = await page.evaluate<string>(`(() => {
      let one = document.activeElement
      while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement
      return (one?.labels?.[0]?.textContent ?? one?.textContent ?? '').trim().replace(/\\s+/g, ' ')
    })()`)
    if (name.test(now)) return
    passed.push(now)
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab never comes to ${String(name)}; it came to ${[...new Set(passed)].join(' | ')}`)
}

test('the whole first start by keyboard alone', () =>
  withStart(async (screen, page) => {
    const { keyboard } = page
    await tabTo(page, /What is the show called/)
    await keyboard.press('Control+A')
    await keyboard.type('Fern house')
    await tabTo(page, /^Learn by playing/)
    await keyboard.press('Enter')
    await page.getByText('Play a note on the instrument').waitFor()
    await screen.say({ type: 'learned', port: 'Keybed 20:0', channel: 1, key: 60 })
    await page.getByText('Heard key 60 (C4) on Keybed 20:0, channel 1').waitFor()
    await keyboard.press('Enter')
    await expect.poll(async () => (await asks(screen, 'learn-end')).length).toBe(1)
    await tabTo(page, /^Add pads/)
    await keyboard.press('Enter')
    await page.getByRole('region', { name: 'Pads, player 2' }).waitFor()
    await tabTo(page, /^Go on/)
    await keyboard.press('Enter')

    await question(page, 'How many lamps?')
    await tabTo(page, /^Lamps, 1 to 64/)
    await keyboard.press('Control+A')
    await keyboard.type('6')
    await tabTo(page, /^Amps it can give/)
    await keyboard.press('ArrowUp')
    await keyboard.press('Enter')

    await question(page, 'How are they wired?')
    await tabTo(page, /^A lamp box on a serial port/)
    await keyboard.press('Space')
    await tabTo(page, /^Port of the lamp box/)
    await keyboard.press('ArrowDown')
    await tabTo(page, /^Go on/)
    await keyboard.press('Enter')

    await question(page, 'Before anything is lit')
    await tabTo(page, /^I have read this/)
    await keyboard.press('Space')
    await keyboard.press('Enter')
    await expect.poll(async () => (await asks(screen, 'new-show')).length).toBe(1)
    expect((await asks(screen, 'new-show'))[0]?.answers).toEqual({
      title: 'Fern house',
      players: [
        { kind: 'keys', port: 'Keybed 20:0', channels: [1] },
        { kind: 'pads', port: '', channels: [10] },
      ],
      lamps: 6,
      wiring: { kind: 'serial', port: '/dev/ttyUSB0' },
      supply: { volts: 12, maxAmps: 5.5, watts: 10 },
    })
    const order = (await screen.asked()).map(({ type }) => type)
    expect(order.indexOf('cautions-read')).toBe(order.indexOf('new-show') - 1)

    await screen.say(theShow({ revision: 2 }))
    await question(page, 'Light the lamps')
    await tabTo(page, /^Light the next lamp/)
    await keyboard.press('Enter')
    await page.getByText('lit steadily for up to two seconds').waitFor()
    await tabTo(page, /^Light Fern/)
    await keyboard.press('Enter')
    await screen.say({ type: 'finding', lamp: 'fern' })
    await page.getByText('Fern is lit: 1 of 10.').waitFor()
    await keyboard.press('Enter')
    await screen.say({ type: 'finding', lamp: 'moss' })
    await page.getByText('Moss is lit: 2 of 10.').waitFor()
    expect((await asks(screen, 'find-lamp')).map(({ lamp }) => lamp)).toEqual(['fern', 'moss'])
    await tabTo(page, /^To the Stage/)
    await keyboard.press('Enter')
    await expect.poll(() => page.evaluate('location.hash')).toBe('#stage')
  }))

describe('answers', () => {
  test('are kept while going back, and over a look into another room', () =>
    withStart(async (_, page) => {
      await page.getByRole('button', { name: 'Add strings' }).click()
      await goOn(page)
      await page.getByRole('spinbutton', { name: 'Volts of their supply' }).fill('24')
      await goOn(page)
      await page.getByRole('radio', { name: /MIDI/ }).check()
      await page.getByRole('combobox', { name: 'Port of the lamp box' }).selectOption('Lamp box 28:0')
      await page.getByRole('button', { name: 'Back' }).click()
      expect(await page.getByRole('spinbutton', { name: 'Volts of their supply' }).inputValue()).toBe('24')
      await page.getByRole('button', { name: 'Back' }).click()
      await page.getByRole('region', { name: 'Strings, player 2' }).waitFor()
      await page.evaluate('location.hash = "#checks"')
      await page.evaluate('location.hash = "#start"')
      await page.getByRole('region', { name: 'Strings, player 2' }).waitFor()
      await goOn(page)
      await goOn(page)
      expect(await page.getByRole('radio', { name: /MIDI/ }).isChecked()).toBe(true)
      expect(await page.getByRole('combobox', { name: 'Port of the lamp box' }).inputValue()).toBe(
        'Lamp box 28:0',
      )
    }))

  test('that are wrong are told beside their fields, and nobody goes on', () =>
    withStart(async (_, page) => {
      await page.getByRole('textbox', { name: 'What is the show called?' }).fill('')
      await goOn(page)
      await page.getByText('nothing is entered; expected a text').waitFor()
      await page.getByRole('textbox', { name: 'What is the show called?' }).fill('Fern house')
      await page.getByRole('textbox', { name: 'MIDI channels' }).fill('17')
      await goOn(page)
      await page.getByText('found "17"; expected channels from 1 to 16').waitFor()
      await page.getByRole('textbox', { name: 'MIDI channels' }).fill('1')
      await page.getByRole('button', { name: /^Remove/ }).click()
      await goOn(page)
      await page.getByText('nobody plays yet').waitFor()
      await page.getByRole('button', { name: 'Add keys' }).click()
      await goOn(page)
      await page.getByRole('spinbutton', { name: 'Lamps, 1 to 64' }).fill('65')
      await goOn(page)
      await page.getByText('found 65; expected a whole number from 1 to 64').waitFor()
      await page.getByRole('spinbutton', { name: 'Lamps, 1 to 64' }).fill('17')
      await goOn(page)
      await question(page, 'How are they wired?')
      await goOn(page)
      await page.getByText('not answered yet').waitFor()
      await page.getByRole('radio', { name: /MIDI/ }).check()
      await goOn(page)
      await page.getByText('no port is chosen').waitFor()
      await page.getByText('it has room for 16 lamps, and there are 17').waitFor()
      await page.getByRole('radio', { name: /No lamps yet/ }).check()
      await goOn(page)
      await question(page, 'Before anything is lit')
      expect(await page.getByText('no port is chosen').count()).toBe(0)
    }))
})

async function toCautions(page: Page): Promise<void> {
  await goOn(page)
  await goOn(page)
  await page.getByRole('radio', { name: /No lamps yet/ }).check()
  await goOn(page)
  await question(page, 'Before anything is lit')
}

test('nothing is made before every caution is shown and read', () =>
  withStart(async (screen, page) => {
    await toCautions(page)
    const welcome = houseWords().find(({ type }) => type === 'welcome')
    if (welcome?.type !== 'welcome') throw new Error('no welcome')
    expect(welcome.cautions.length).toBeGreaterThan(0)
    for (const caution of welcome.cautions) expect(await page.getByText(caution).count()).toBe(1)
    const make = page.getByRole('button', { name: 'Make the show' })
    expect(await make.isDisabled()).toBe(true)
    await page.getByRole('checkbox', { name: 'I have read this' }).focus()
    await page.keyboard.press('Enter')
    expect(await asks(screen, 'new-show')).toEqual([])
    expect(await asks(screen, 'cautions-read')).toEqual([])
    await page.getByRole('checkbox', { name: 'I have read this' }).check()
    await make.click()
    await expect.poll(async () => (await asks(screen, 'new-show')).length).toBe(1)
  }))

test('what the host refuses is told, and the answers are still there', () =>
  withStart(async (screen, page) => {
    await toCautions(page)
    await page.getByRole('checkbox', { name: 'I have read this' }).check()
    await page.getByRole('button', { name: 'Make the show' }).click()
    await screen.say({ type: 'refused', message: 'this screen may not change files' })
    await page.locator('lan-first-start').getByText('this screen may not change files').waitFor()
    await question(page, 'Before anything is lit')
    await page.getByRole('button', { name: 'Make the show' }).click()
    await expect.poll(async () => (await asks(screen, 'new-show')).length).toBe(2)
  }))

test('a show that is not saved is spoken of before another takes its place', () =>
  withStart(
    async (_, page) => {
      await toCautions(page)
      const words = page.getByText(`“${demoShow().title}” is open and has changes that are not saved`)
      await expect.poll(() => words.count()).toBe(1)
    },
    [PORTS, theShow({ revision: 5, isSaved: false, isDemo: false })],
  ))

test('a lamp that is refused has had its turn, one whose caution was not heeded has not', () =>
  withStart(async (screen, page) => {
    await toCautions(page)
    await page.getByRole('checkbox', { name: 'I have read this' }).check()
    await page.getByRole('button', { name: 'Make the show' }).click()
    await screen.say(theShow({ revision: 2 }))
    const next = page.getByRole('button', { name: 'Light the next lamp' })
    await next.click()
    await page.getByRole('button', { name: 'Not now' }).click()
    await next.click()
    await page.getByRole('button', { name: 'Light Fern' }).click()
    await screen.say({ type: 'finding', lamp: null, why: 'the supply has no more to give' })
    await page.locator('lan-first-start').getByText('the supply has no more to give').waitFor()
    await next.click()
    await expect
      .poll(async () => (await asks(screen, 'find-lamp')).map(({ lamp }) => lamp))
      .toEqual(['fern', 'moss'])
  }))

test.each(ROOM_SIZES)('every step at %i by %i: nothing hangs over, nothing is at fault', (width, height) =>
  withStart(
    async (screen, page) => {
      const look = async (name: string): Promise<void> => {
        await takePicture(page, `first-start-${name}`)
        expect(await overhang(page)).toBe(0)
        expect(await roomFaults(page, 'lan-first-start')).toEqual([])
      }
      await page.getByRole('button', { name: 'Add pads' }).click()
      await page.getByRole('button', { name: 'Learn by playing for Keys' }).click()
      await screen.say({ type: 'learned', port: 'Keybed 20:0', channel: 2, key: 60 })
      await page.getByText('Heard key 60').waitFor()
      await look('players')
      await goOn(page)
      await look('lamps')
      await goOn(page)
      await goOn(page)
      await page.getByRole('radio', { name: /MIDI/ }).check()
      await look('wiring')
      await page.getByRole('radio', { name: /No lamps yet/ }).check()
      await goOn(page)
      await look('cautions')
      await page.getByRole('checkbox', { name: 'I have read this' }).check()
      await page.getByRole('button', { name: 'Make the show' }).click()
      await screen.say(theShow({ revision: 2 }))
      await page.getByRole('button', { name: 'Light the next lamp' }).click()
      await look('word')
      await page.getByRole('button', { name: 'Light Fern' }).click()
      await screen.say({ type: 'finding', lamp: 'fern' })
      await page.getByText('Fern is lit').waitFor()
      await look('light')
    },
    [PORTS],
    [width, height],
  ),
)
