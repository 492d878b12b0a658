import { readFile } from 'node:fs/promises'
import type { Browser } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { POLICY } from '../../../app/engine/host/web/headers.ts'
import { startChromium } from '../../support/chromium.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import type { HostWord } from '../../support/house-words.ts'
import { inPage } from '../../support/in-page.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

let browser: Browser
let house: EditedHouse
let form: KeyboardForm
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  house = await EditedHouse.open(browser, { hash: '#songs' })
  form = new KeyboardForm(house)
  await house.page.locator('lan-control-form').last().waitFor()
})
afterEach(() => house.close())

const isPage = (url: URL): boolean => url.pathname === '/'

function place(name: string) {
  return house.page
    .getByRole('list', { name: 'Running order' })
    .getByRole('listitem')
    .filter({ hasText: name })
}

async function lastAsked(): Promise<object | undefined> {
  return (await house.screen.asked()).at(-1)
}

describe('the running order', () => {
  test('says place, title, variants, length, notes, what plays and what comes', async () => {
    const order = house.page.getByRole('list', { name: 'Running order' }).locator('> li')
    const texts = (await order.allTextContents()).map((text) => text.replaceAll(/\s+/g, ' ').trim())
    expect(texts).toHaveLength(4)
    expect(texts[0]).toMatch(/^1 Dew on the panes plays now Keys: hold the low note.* 4:30 Go to it/)
    expect(texts[2]).toMatch(/^3 Slow growth or Slow growth, no bass Keys: .* 7:15 /)
    // 4.5, 6, 7.25 and once more 4.5 minutes.
    expect(await house.page.locator('lan-running-order .sum').textContent()).toMatch(
      /Planned together\s*22:15/,
    )
    await house.screen.say({ type: 'coming', song: 'mist', position: 1, enterAt: 'bar' })
    await place('Mist clock').getByText('next bar').waitFor()
    await house.page.getByRole('button', { name: 'Stay' }).click()
    await expect.poll(lastAsked).toMatchObject({ type: 'stay' })
    await house.screen.say({ type: 'coming', song: null, position: null, enterAt: 'now' })
    await house.page.getByRole('button', { name: 'Stay' }).waitFor({ state: 'detached' })
    await house.screen.say({ type: 'song', song: 'growth-bare', position: 2 })
    await place('plays now: Slow growth, no bass').waitFor()
  })

  test('is put in order, added to and taken from with the keyboard', async () => {
    await form.push('Mist clock, 2 of 4: earlier')
    await house.next()
    expect(house.show.setList).toEqual(['mist', 'dew', 'growth', 'dew'])
    await form.push('Slow growth, 3 of 4: off the set list')
    await house.next()
    expect(house.show.setList).toEqual(['mist', 'dew', 'dew'])
    await house.page.getByText('Not in the set list').waitFor()
    await form.tabTo('Song to add to the set list')
    await form.press('End')
    await form.push('Add at the end')
    await house.next()
    expect(house.show.setList).toEqual(['mist', 'dew', 'dew', 'growth-bare'])
    await form.push('Mist clock, 1 of 4: not tonight', 'Space')
    await house.next()
    expect(house.show.songs[1]?.skip).toBe(true)
    // 4:30 twice and 5:30.
    await expect
      .poll(() => house.page.locator('lan-running-order .sum').textContent())
      .toMatch(/without what is not played tonight.*14:30/s)
    await form.push('Dew on the panes, 3 of 4: go to it')
    await expect.poll(lastAsked).toMatchObject({ type: 'song', song: 'dew', position: 2 })
  })
})

describe('a song', () => {
  test('title, notes, length, when and how it begins', async () => {
    await place('Mist clock').getByRole('link', { name: 'Mist clock' }).click()
    await house.page.getByRole('heading', { name: 'Mist clock' }).waitFor()
    const song = () => house.show.songs[1]
    await form.type('Title', 'Fog clock')
    await house.next()
    await form.tabTo('Notes for the players')
    await form.press('Control+A')
    await house.page.keyboard.type('Keys: one key.\nBass: none.')
    await form.press('Tab')
    expect((await house.next()).label).toBe('notes of Fog clock')
    await form.type('Planned length', '5.5')
    await house.next()
    await form.choose('Begins, once asked for', 'on the next bar')
    await form.choose('On entering', 'carry: held notes go on')
    expect(song()).toMatchObject({
      title: 'Fog clock',
      notes: 'Keys: one key.\nBass: none.',
      minutes: 5.5,
      enterAt: 'bar',
      enter: 'carry',
    })
    await form.choose('Begins, once asked for', 'as the show has it: at once')
    await form.tabTo('Planned length')
    await form.press('Control+A')
    await form.press('Delete')
    await form.press('Enter')
    await house.next()
    expect(song()).not.toHaveProperty('minutes')
    expect(song()).not.toHaveProperty('enterAt')
  })

  test('a variant is kept, gone to, and removed; what it was of leaves its place to it', async () => {
    await form.push('Keep a variant of this song')
    await house.next()
    await expect.poll(() => house.page.url()).toContain('#songs/dew-on-the-panes-variant')
    expect(house.show.songs[1]).toMatchObject({ title: 'Dew on the panes, variant', variantOf: 'dew' })
    expect(house.show.songs[1]?.parts).toEqual(house.show.songs[0]?.parts)
    expect(house.show.setList).not.toContain('dew-on-the-panes-variant')
    await form.push('Go to Dew on the panes, variant')
    await expect.poll(lastAsked).toMatchObject({ type: 'song', song: 'dew-on-the-panes-variant' })
    await house.page.goto(`${house.page.url().split('#')[0]}#songs/dew`)
    await form.push('Remove Dew on the panes')
    await house.next()
    expect(house.show.songs[0]).toMatchObject({ id: 'dew-on-the-panes-variant' })
    expect(house.show.songs[0]).not.toHaveProperty('variantOf')
    expect(house.show.setList).toEqual([
      'dew-on-the-panes-variant',
      'mist',
      'growth',
      'dew-on-the-panes-variant',
    ])
  })
})

describe('controls', () => {
  const learned = (heard: object): HostWord =>
    ({ type: 'learned', port: 'Pads', channel: 10, ...heard }) as HostWord

  test('are said in words, added, changed and removed with the keyboard', async () => {
    const heads = house.page.locator('lan-control-form h4')
    expect((await heads.allTextContents()).map((text) => text.replaceAll(/\s+/g, ' ').trim())).toEqual([
      'Keys any program change: the place of the program’s number: program 0 is place 1',
      'Keys controller 80 pressed: the next song',
      'Keys controller 81 pressed: the next variant of the song',
      'Pads pad C#3 (49): the next song',
    ])
    await form.choose('Songs begin, once asked for', 'on the next beat')
    expect(house.show.switching.enterAt).toBe('beat')
    await form.push('Add a control')
    await house.next()
    expect(house.show.switching.controls[4]).toEqual({
      player: 'keys',
      on: { kind: 'program', program: 0 },
      do: 'next',
    })
    // It is open to be changed at once.
    const last = house.page.locator('lan-control-form').last()
    await last.getByLabel('What comes of it').selectOption({ label: 'Place 3: Slow growth' })
    await house.next()
    await last.getByText('Slow growth').first().waitFor()
    await last
      .getByLabel('What comes of it')
      .selectOption({ label: 'The tuning nineteen, for notes to come' })
    await house.next()
    expect(house.show.switching.controls[4]?.do).toEqual({ tuning: 'nineteen', retune: false })
    await expect
      .poll(() => last.locator('h4').textContent())
      .toContain('the tuning nineteen, for notes to come')
    await last.getByLabel('What comes of it').selectOption({ label: 'Place 3: Slow growth' })
    await house.next()
    await last.locator('h4').getByText('Slow growth').waitFor()
    await last.getByLabel('Does').selectOption({ label: 'a pedal or controller' })
    await house.next()
    // A form is of the control as it was when it was drawn; a person sees it change first.
    await last.getByRole('spinbutton', { name: 'Controller' }).waitFor()
    await last.getByLabel('Channel').selectOption('1')
    await house.next()
    await last.locator('h4').getByText('channel 1').waitFor()
    expect(house.show.switching.controls[4]).toEqual({
      player: 'keys',
      on: { kind: 'controller', controller: 0, channel: 1 },
      do: { place: 3 },
    })
    // What another control has is refused, and said there.
    await last.getByLabel('Channel').selectOption('')
    await house.next()
    await expect.poll(() => last.locator('h4').textContent()).not.toContain('channel 1')
    await last.getByRole('spinbutton', { name: 'Controller' }).fill('80')
    await last.getByRole('spinbutton', { name: 'Controller' }).press('Enter')
    await house.next()
    await last.getByText('another control has the same gesture').waitFor()
    await form.push('Remove control 5')
    await house.next()
    expect(house.show.switching.controls).toHaveLength(4)
  })

  test('are learned by playing; Enter takes what was heard', async () => {
    await form.push('Add a control by playing')
    await expect.poll(lastAsked).toMatchObject({ type: 'learn' })
    await house.screen.say(learned({ key: 51 }))
    await house.page.getByText('Then Pads does it: pad D#3 (51).').waitFor()
    await expect.poll(() => form.focused()).toBe('Take it')
    await form.press('Enter')
    await house.next()
    expect(house.show.switching.controls[4]).toEqual({
      player: 'pads',
      on: { kind: 'note', key: 51 },
      do: 'next',
    })
    await expect.poll(async () => (await house.screen.asked()).map(({ type }) => type)).toContain('learn-end')
    await expect.poll(() => form.focused()).toBe('Add a control by playing')

    await form.push('Learn by playing, control 2')
    await house.screen.say(learned({ port: 'Stranger', controller: 64 }))
    await house.page.getByText('No player listens to that port').waitFor()
    expect(await house.page.getByRole('button', { name: 'Take it' }).count()).toBe(0)
    await expect.poll(() => form.focused()).toBe('Play again')
    await form.press('Enter')
    await house.screen.say(learned({ port: 'Bass', channel: 3, program: 7 }))
    await house.page.getByText('Then Bass does it: program change 7, channel 3.').waitFor()
    await form.press('Enter')
    await house.next()
    expect(house.show.switching.controls[1]).toEqual({
      player: 'bass',
      on: { kind: 'program', program: 7, channel: 3 },
      do: 'next',
    })
    await expect.poll(() => form.focused()).toBe('Learn by playing, control 2')
    await form.press('Enter')
    await form.press('Escape')
    await expect.poll(() => house.page.locator('lan-learn-offer').count()).toBe(0)
  })
})

test('the printable sheet comes from the host and is saved as a file, under the content policy too', async () => {
  await house.page.route(isPage, async (route) => {
    const response = await route.fetch()
    const headers = { ...response.headers(), 'content-security-policy': POLICY }
    await route.fulfill({ response, headers })
  })
  await house.page.reload()
  await house.page.locator('lan-control-form').last().waitFor()
  // The policy is in force: code out of text is not run.
  expect(
    await house.page.evaluate<string>(
      `(() => { const one = document.createElement('script'); try { one.text = 'window.ran = 1' } catch (error) { return error.name } return 'ran' })()`,
    ),
  ).toBe('TypeError')
  await form.push('Make the sheet')
  await expect.poll(lastAsked).toMatchObject({ type: 'ask-sheet' })
  const html = '<!doctype html><title>Glasshouse</title><p>Dew on the panes \u2019'
  await house.screen.say({ type: 'sheet', name: 'glasshouse-sheet.html', html })
  const link = house.page.getByRole('link', { name: 'Save glasshouse-sheet.html' })
  const [download] = await Promise.all([house.page.waitForEvent('download'), link.click()])
  expect(download.suggestedFilename()).toBe('glasshouse-sheet.html')
  expect(await readFile(await download.path(), 'utf8')).toBe(html)
})

test('works at every size without faults of access, and scrolls down only', async () => {
  const { page } = house
  await house.changeElsewhere([
    { do: 'set', path: ['songs', 1, 'skip'], value: true },
    { do: 'remove', path: ['songs', 0, 'minutes'] },
  ])
  await house.screen.say({ type: 'coming', song: 'growth', position: 2, enterAt: 'release' })
  await page.getByText('when these notes end: Slow growth').waitFor()
  for (const [width, height] of ROOM_SIZES) {
    await page.setViewportSize({ width, height })
    await page.locator('main').evaluate(inPage<void>('(node) => { node.scrollTop = 0 }'))
    await takePicture(page, 'songs')
    expect(await roomFaults(page, 'lan-songs-room')).toEqual([])
    expect(await overhang(page)).toBe(0)
    await scrollTo(page, '#changing')
    await takePicture(page, 'songs-controls')
  }
})
