import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { PadHit } from '../../../src/contract/from-engine.ts'
import type { Show } from '../../../src/domain/show.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

/** The demo with pads that have names. */
function namedPads(): Show {
  const show = demoShow()
  return {
    ...show,
    players: show.players.map((player) =>
      player.kind === 'pads'
        ? {
            ...player,
            curve: 'soft',
            pads: [
              { key: 36, name: 'Kick', floor: 20, gateMs: 200 },
              {
                key: 38,
                name: 'Snare',
                maskMs: 8,
                curve: [
                  [1, 20],
                  [64, 90],
                  [127, 127],
                ],
              },
              { key: 42, name: 'Tick' },
            ],
          }
        : player,
    ),
  }
}

const HITS: PadHit[] = [
  { at: 8_200_000, key: 36, velocity: 110 },
  { at: 8_204_000, key: 46, velocity: 22, dropped: 'crosstalk' },
  { at: 8_600_000, key: 42, velocity: 60 },
  { at: 9_000_000, key: 38, velocity: 40, taken: 64 },
  { at: 9_028_000, key: 38, velocity: 104, taken: 114 },
  { at: 9_036_000, key: 38, velocity: 33, dropped: 'mask' },
  { at: 9_400_000, key: 42, velocity: 58 },
  { at: 9_700_000, key: 42, velocity: 4, dropped: 'floor' },
  { at: 10_000_000, key: 38, velocity: 64, taken: 90 },
]

/** What the engine says of players after so many hits. */
function played(hits: readonly PadHit[]): HostWord {
  const count = (why: PadHit['dropped']): number => hits.filter(({ dropped }) => dropped === why).length
  const drops = { floor: count('floor'), mask: count('mask'), crosstalk: count('crosstalk'), ghost: 0 }
  const pads = {
    player: 'pads',
    keys: [],
    bendCents: 0,
    heardAt: hits.at(-1)?.at ?? null,
    notes: count(undefined),
    dropped: hits.length - count(undefined),
    drops,
    hits: [...hits],
  }
  return { type: 'players', at: 10_000_000, players: [pads] }
}

async function withPads(work: (house: EditedHouse) => Promise<void>, show?: Show): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#rig', ...(show ? { show } : {}) })
  try {
    await house.page.getByRole('heading', { name: 'Rig', level: 1 }).waitFor()
    await work(house)
  } finally {
    await house.close()
  }
}

const padsOf = ({ show }: EditedHouse): unknown => show.players[1]

describe('a pad', () => {
  test('is named by hitting it, its name typed next, and set otherwise than the rest', () =>
    withPads(async (house) => {
      const { page, screen } = house
      const card = page.getByRole('region', { name: 'Player Pads' })
      await card.getByRole('button', { name: 'Name a pad of Pads by hitting it' }).click()
      await screen.say({ type: 'learned', port: 'Pads 24:0', channel: 10, key: 38 })
      await card.getByText('Then D2 gets a name of its own.').waitFor()
      await page.keyboard.press('Enter')
      await house.next()
      const name = card.getByRole('textbox', { name: 'Name of pad 38' })
      await expect.poll(() => name.evaluate((node) => node.matches(':focus'))).toBe(true)
      await page.keyboard.type('Snare')
      await page.keyboard.press('Enter')
      expect((await house.next()).label).toBe('name of pad Pad 38')
      const mask = card.getByRole('spinbutton', { name: 'Bounce time of Snare, ms' })
      await mask.fill('8')
      await mask.press('Enter')
      await house.next()
      await card.getByRole('combobox', { name: 'Strength of Snare' }).selectOption('only hard hits count')
      await house.next()
      expect(padsOf(house)).toMatchObject({ pads: [{ key: 38, name: 'Snare', maskMs: 8, curve: 'hard' }] })
      await mask.fill('')
      await mask.press('Enter')
      await house.next()
      await card.getByRole('combobox', { name: 'Strength of Snare' }).selectOption('as the rest')
      await house.next()
      expect(padsOf(house)).toMatchObject({ pads: [{ key: 38, name: 'Snare' }] })
      expect(
        (await screen.asked()).filter(({ type }) => type.startsWith('learn')).map(({ type }) => type),
      ).toEqual(['learn', 'learn-end'])
    }))

  test('that has a name is not added again: its name is up to be changed', () =>
    withPads(async (house) => {
      const { page, screen } = house
      await page.getByRole('button', { name: 'Name a pad of Pads by hitting it' }).click()
      await screen.say({ type: 'learned', port: 'Pads 24:0', channel: 3, key: 50 })
      await page.getByText('Pads does not listen to that channel').waitFor()
      expect(await page.getByRole('button', { name: 'Take it' }).count()).toBe(0)
      await page.getByRole('button', { name: 'Play again' }).click()
      await screen.say({ type: 'learned', port: 'Pads 24:0', channel: 10, key: 38 })
      await page.getByText('It is Snare; then its name can be changed.').waitFor()
      await page.getByRole('button', { name: 'Take it' }).click()
      const name = page.getByRole('textbox', { name: 'Name of pad 38' })
      await expect.poll(() => name.evaluate((node) => node.matches(':focus'))).toBe(true)
      expect(await house.waiting()).toEqual([])
    }, namedPads()))

  test('cannot have the key of another: that is told at the field', () =>
    withPads(async (house) => {
      const card = house.page.getByRole('region', { name: 'Player Pads' })
      const key = card.getByRole('textbox', { name: 'Key of Snare' })
      await key.fill('36')
      await key.press('Enter')
      await house.next()
      await card.getByText(/key 36 is that of \$\.players\[1\]\.pads\[0\]\.key/).waitFor()
      await key.fill('D2')
      await key.press('Escape')
      await card.getByRole('button', { name: 'Remove Kick' }).click()
      await house.next()
      expect(padsOf(house)).toMatchObject({ pads: [{ name: 'Snare' }, { name: 'Tick' }] })
    }, namedPads()))
})

test('while the show is locked pads are seen and not changed, and hits are drawn', () =>
  withPads(async (house) => {
    const { page, screen } = house
    const card = page.getByRole('region', { name: 'Player Pads' })
    const hit = card.getByRole('button', { name: 'Name a pad of Pads by hitting it' })
    const remove = card.getByRole('button', { name: 'Remove Kick' })
    expect(await hit.isEnabled()).toBe(true)
    const [said] = houseWords(namedPads()).filter(({ type }) => type === 'show')
    if (said?.type !== 'show') throw new Error('no show')
    await screen.say({ ...said, revision: 0, isLocked: true })
    await expect.poll(() => hit.isDisabled()).toBe(true)
    expect(await remove.isDisabled()).toBe(true)
    await screen.say(played(HITS))
    await card.getByText('Snare: struck 64, taken for 90').first().waitFor()
  }, namedPads()))

test('the strength of hits goes by a curve, by points too, which may not fall', () =>
  withPads(async (house) => {
    const card = house.page.getByRole('region', { name: 'Player Pads' })
    await card.getByRole('combobox', { name: 'Strength of a hit' }).selectOption('soft hits count for more')
    await house.next()
    expect(padsOf(house)).toMatchObject({ curve: 'soft' })
    await card.getByRole('combobox', { name: 'Strength of a hit' }).selectOption('by points')
    await house.next()
    const points = card.getByRole('textbox', { name: 'Strength of a hit, points of struck and taken' })
    await points.fill('1 40, 20 30')
    await points.press('Enter')
    await card.getByText('expected up to 16 pairs').waitFor()
    expect(await house.waiting()).toEqual([])
    await points.fill('1 40, 127 120')
    await points.press('Enter')
    await house.next()
    expect(padsOf(house)).toMatchObject({
      curve: [
        [1, 40],
        [127, 120],
      ],
    })
  }))

test('hits are drawn as they come, dropped ones with their reason, counted, and told as a table', () =>
  withPads(async (house) => {
    const { page, screen } = house
    const picture = page.locator('lan-hit-picture')
    await screen.say(played([]))
    await picture.getByText('Hit a pad, and it is drawn here.').waitFor()
    await screen.say(played(HITS.slice(0, 2)))
    await picture.getByText('A#2 (46): struck 22, dropped: crosstalk').waitFor()
    await screen.say(played(HITS))
    await picture.getByText('Snare: struck 64, taken for 90').first().waitFor()
    await picture
      .getByRole('img', {
        name: 'Hits on Pads: nine hits in the last two seconds of playing: 6 taken, 1 too soft, 1 bounce, 1 crosstalk.',
      })
      .waitFor()
    expect(await picture.locator('circle').count()).toBe(9)
    expect(await picture.locator('circle.dropped').count()).toBe(3)
    expect(await picture.locator('dd').allTextContents()).toEqual(['6', '1', '1', '1'])
    await picture.getByText('The same as a table').click()
    const rows = picture.getByRole('row')
    expect((await rows.nth(1).textContent())?.replace(/\s+/g, ' ').trim()).toBe(
      '0.0 Snare struck 64, taken for 90',
    )
    expect(await rows.count()).toBe(10)
  }, namedPads()))

describe.each(ROOM_SIZES)('at %i by %i', (width, height) => {
  test.each([
    ['named', namedPads(), HITS],
    ['bare', demoShow(), []],
  ] as const)('pads %s: nothing hangs over, nothing is at fault', async (name, show, hits) => {
    const house = await EditedHouse.open(browser, { hash: '#rig', width, height, show, more: [played(hits)] })
    const { page } = house
    const card = page.getByRole('region', { name: 'Player Pads' })
    await card.waitFor()
    await scrollTo(page, 'lan-rig-players .card.whole')
    await takePicture(page, `rig-pads-${name}`)
    await page.getByText('The same as a table').click()
    expect(await overhang(page)).toBe(0)
    expect(await roomFaults(page, 'lan-rig-room')).toEqual([])
    await house.close()
  })
})
