import { readFileSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { takeChecksWord, venueWord } from '../../../app/engine/host/take-words.ts'
import { DEMO_TAKE, demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { checkWords, houseWords } from '../../support/house-words.ts'
import { countDraws, drawsOf } from '../../support/in-page.ts'
import { overhang, ROOM_SIZES, roomFaults, takePicture } from '../../support/room-sizes.ts'
import { checkedGig } from '../../support/song-takes.ts'
import { shadowText } from '../../support/shadow-text.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

type Checks = Extract<HostWord, { type: 'checks' }>
const CAUTION = /photosensitive seizures/

/** Findings of every gravity, in the order the host has them. */
function graveWords(): Checks {
  const words = checkWords() as Checks
  const findings: Checks['findings'] = [
    {
      gravity: 'fault',
      where: 'song mist, part roots',
      message: 'this part never lights a lamp',
      path: ['songs', 1, 'parts', 1],
    },
    {
      gravity: 'warning',
      where: '$.rig.outputs[1]',
      message: 'pitches are off',
      path: ['rig', 'outputs', 1],
    },
    { gravity: 'warning', where: '$.tunings[0]', message: 'nothing is in it', path: ['tunings', 0] },
    ...words.findings,
  ]
  return { ...words, findings }
}

const TAKE = Uint8Array.from(readFileSync(DEMO_TAKE))
const GIG = checkedGig(demoShow(), { dew: [TAKE], mist: [TAKE, Uint8Array.of(1, 2)] })
const COUNTED = takeChecksWord(1, demoShow(), GIG)
const PAGE = venueWord(demoShow(), GIG, '2031-02-28')

function shown(revision: number): HostWord {
  const show = houseWords().find((word) => word.type === 'show')
  if (show?.type !== 'show') throw new Error('no show is said')
  return { ...show, revision }
}

async function open(
  words: HostWord[] = [graveWords()],
  size: readonly [number, number] = [1280, 800],
): Promise<ScreenPage> {
  const [width, height] = size
  const screen = await openScreenPage(browser, { first: houseWords(), hash: '#checks', width, height })
  await expect.poll(() => asks(screen)).toBe(1)
  await screen.say(...words)
  return screen
}

async function asks(screen: ScreenPage): Promise<number> {
  return (await screen.asked()).filter(({ type }) => type === 'ask-checks').length
}

describe('the Checks room', () => {
  test('asks when it is opened, again when the show changes, once for many changes', async () => {
    const screen = await open()
    const status = screen.page.locator('lan-checks-room .head').getByRole('status')
    await expect.poll(() => status.textContent()).toBe('Counted for revision 1 of the show.')
    await screen.say(shown(2), shown(3))
    await screen.say(shown(4))
    await expect.poll(() => status.textContent()).toContain('Checking revision 4...')
    expect(await status.textContent()).toContain('counted for revision 1')
    await expect.poll(() => asks(screen)).toBe(2)
    await screen.say({ ...graveWords(), revision: 4 })
    await expect.poll(() => status.textContent()).toBe('Counted for revision 4 of the show.')
    expect(await asks(screen)).toBe(2)
    await screen.close()
  })

  test('gravest first, each with its word, its place and a way to where it is mended', async () => {
    const screen = await open()
    const items = screen.page.locator('lan-checks-room .findings > li')
    await expect.poll(() => items.count()).toBe(graveWords().findings.length - 1)
    const texts = (await items.allInnerTexts()).map((text) => text.trim())
    expect(texts[0]).toMatch(/^fault\s+song mist, part roots\s+This part never lights a lamp\./)
    expect(texts.map((text) => text.split(/\s/)[0]).slice(0, 4)).toEqual([
      'fault',
      'warning',
      'warning',
      'note',
    ])
    const links = screen.page.locator('lan-checks-room .findings a')
    expect(await links.nth(0).getAttribute('href')).toBe('#sheet/mist/roots')
    expect(await links.nth(0).textContent()).toBe('Mend it in Mist clock, roots')
    expect(await links.nth(1).getAttribute('href')).toBe('#rig')
    expect(await links.nth(2).getAttribute('href')).toBe('#tuning')
    await links.nth(1).click()
    await screen.page.locator('lan-rig-room').waitFor()
    await screen.close()
  })

  test('sifts by gravity and by song; the caution stays', async () => {
    const screen = await open()
    const room = screen.page.locator('lan-checks-room')
    const items = room.locator('.findings > li')
    const notes = graveWords().findings.filter(({ gravity }) => gravity === 'note').length - 1
    await room.getByRole('button', { name: `Notes ${notes}` }).click()
    await expect.poll(() => items.count()).toBe(3)
    expect(await shadowText(room)).toContain(`3 of ${notes + 3} shown`)
    await room.getByRole('button', { name: 'Warnings 2' }).click()
    await room.getByRole('button', { name: 'Faults 1' }).click()
    await expect.poll(() => items.count()).toBe(0)
    expect(await shadowText(room)).toMatch(CAUTION)

    await room.getByRole('button', { name: /Notes/ }).click()
    await room.getByRole('button', { name: /Faults/ }).click()
    await room.getByLabel('Song').selectOption({ label: 'Mist clock' })
    const where = await items.locator('h3').allInnerTexts()
    expect(where).toContain('song mist, part roots')
    expect(where.filter((text) => !text.includes('song mist'))).toEqual([])
    expect(await shadowText(room)).toMatch(CAUTION)
    await screen.close()
  })

  test('an empty list is no verdict', async () => {
    const screen = await open([{ ...graveWords(), findings: graveWords().findings.slice(-1) }])
    const room = screen.page.locator('lan-checks-room')
    await expect.poll(() => shadowText(room)).toContain('Nothing counted against this show but the cautions.')
    const text = await shadowText(room)
    expect(text).toMatch(CAUTION)
    expect(text).not.toMatch(/\b(safe|ok|okay|clear|clean|passed|all good|no problems)\b/i)
    await screen.close()
  })

  test('the cautions are there before anything is counted', async () => {
    const screen = await open([])
    const room = screen.page.locator('lan-checks-room')
    await expect.poll(() => shadowText(room)).toMatch(CAUTION)
    expect(await shadowText(room)).toContain('Checking revision 1...')
    expect(await roomFaults(screen.page, 'lan-checks-room')).toEqual([])
    await screen.close()
  })

  test('lamps that change do not draw it again', async () => {
    const screen = await open()
    const room = screen.page.locator('lan-checks-room')
    await expect.poll(() => room.locator('.findings > li').count()).toBeGreaterThan(3)
    await room.evaluate(countDraws)
    const lamps = demoShow().rig.lamps.map(({ id }) => ({ lamp: id, on: false }))
    await screen.say({ type: 'lamps', at: 3_000_000, lamps })
    await screen.say({ type: 'lamps', at: 3_100_000, lamps }, { ...graveWords(), findings: [] })
    await expect.poll(() => shadowText(room)).toContain('Nothing counted')
    expect(await room.evaluate(drawsOf)).toBe(1)
    await screen.close()
  })

  test('takes: says that they are being counted, then each with its figures, worst song first', async () => {
    const screen = await open()
    await expect
      .poll(async () => (await screen.asked()).filter(({ type }) => type === 'ask-take-checks').length)
      .toBe(1)
    const room = screen.page.locator('lan-checks-room')
    const told = room.locator('.counting')
    await expect.poll(() => told.textContent()).toBe('Counting takes...')
    const counting = { done: 1, of: 3 }
    await screen.say({ type: 'take-checks', revision: 1, counting, songs: [], notices: null })
    await expect.poll(() => told.textContent()).toBe('Counting takes: 1 of 3 done.')
    await screen.say(COUNTED)
    await expect.poll(() => told.textContent()).toBe('Counted three takes for revision 1 of the show.')
    const rows = await room.locator('lan-take-table tbody tr').allInnerTexts()
    expect(rows.map((row) => row.split(/[\n\t]/)[0]?.trim())).toEqual([
      'Mist clock',
      'Mist clock',
      'Dew on the panes',
      'Slow growth',
      'Slow growth, no bass',
    ])
    expect(rows[1]).toContain('could not be counted')
    expect(rows[3]).toContain('no take: nothing counted')
    const [first] = GIG.songs[1]?.takes ?? []
    const flash = first?.ok ? first.report.flash : undefined
    expect(rows[2]).toContain(`\t${flash?.fieldPerSecondMax}\t`)
    expect(rows[2]).toContain(flash?.bandSeconds.toFixed(1))

    // What was found in them stands with what the show says by itself.
    const items = room.locator('.findings > li')
    const faults = await items.filter({ hasText: 'fault' }).allInnerTexts()
    expect(faults[0]).toMatch(/song mist, take mist-2\.mid\s+This is not a MIDI file/)
    await room.getByLabel('Song').selectOption({ label: 'Dew on the panes' })
    await expect
      .poll(async () => (await items.allInnerTexts()).join())
      .toContain('The field flashes up to 9 times')
    expect((await items.allInnerTexts()).join()).not.toContain('song mist,')
    // Of a show that has changed it is said that it is no longer counted.
    await screen.say(shown(2))
    await expect
      .poll(() => told.textContent())
      .toBe('Counting takes... What stands here was counted for revision 1.')
    await screen.close()
  })

  test('the page for the venue is asked for with its date and offered as a file; notices are copied', async () => {
    const screen = await open([graveWords(), COUNTED])
    const papers = screen.page.locator('lan-gig-papers')
    await papers.getByLabel('Date on the page').fill('2031-02-28')
    await papers.getByRole('button', { name: 'Make the page for the venue' }).click()
    await expect
      .poll(async () => (await screen.asked()).at(-1))
      .toMatchObject({ type: 'ask-venue', date: '2031-02-28' })
    await expect.poll(() => shadowText(papers)).toContain('Asked the host for it. Takes are counted first')
    await screen.say(PAGE)
    const link = papers.getByRole('link', { name: /Save Glasshouse, second night, for the venue/ })
    await link.waitFor()
    expect(await link.getAttribute('download')).toBe('Glasshouse, second night, for the venue.html')
    expect(await link.getAttribute('href')).toMatch(/^blob:/)
    expect(await papers.locator('pre').allTextContents()).toEqual([
      expect.stringContaining('We counted up to 9 flashes in one second'),
      expect.stringContaining('Who makes it dark, and how'),
    ])
    await papers.getByRole('button', { name: 'Copy: For the audience' }).click()
    await expect.poll(() => shadowText(papers)).toMatch(/Copied\.|Not copied/)
    await screen.close()
  })

  test.each(ROOM_SIZES)('at %i by %i', async (width, height) => {
    const screen = await open([graveWords(), COUNTED], [width, height])
    await expect.poll(() => screen.page.locator('lan-checks-room .findings > li').count()).toBeGreaterThan(3)
    expect(await overhang(screen.page)).toBeLessThanOrEqual(0)
    expect(await roomFaults(screen.page, 'lan-checks-room')).toEqual([])
    await takePicture(screen.page, 'checks')
    await screen.close()
  })
})
