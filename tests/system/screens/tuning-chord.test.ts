import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'
import { shadowText } from '../../support/shadow-text.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'
import { tuningWords } from '../../support/tuning-words.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

const ROOM = 'lan-tuning-room'

async function inRoom(
  use: (screen: ScreenPage) => Promise<void>,
  { show = demoShow(), width = 1280, height = 800 } = {},
): Promise<void> {
  const screen = await openScreenPage(browser, { first: houseWords(show), hash: '#tuning', width, height })
  try {
    await screen.page.locator('lan-tuning-entry').first().waitFor()
    await screen.say(tuningWords('dew', 'lead', { show }))
    await expect.poll(() => shadowText(screen.page.locator(ROOM))).toContain('Farthest off')
    await use(screen)
  } finally {
    await screen.close()
  }
}

/** The first song in a scale that leaves black keys out. */
function whiteKeys(): Show {
  const show = demoShow()
  const map = {
    first: 0,
    last: 127,
    middle: 60,
    formalOctave: 7,
    degrees: [0, null, 1, null, 2, 3, null, 4, null, 5, null, 6],
  }
  const pitches = ['9/8', '5/4', '4/3', '3/2', '5/3', '15/8', '2']
  const white = {
    id: 'white',
    kind: 'scale' as const,
    name: 'White keys',
    pitches,
    map,
    refNote: 60,
    refHz: 264,
  }
  const songs = show.songs.map((song) => (song.id === 'dew' ? { ...song, tuning: 'white' } : song))
  return { ...show, tunings: [...show.tunings, white], songs }
}

function holding(keys: readonly number[]): HostWord {
  const drops = { floor: 0, mask: 0, crosstalk: 0, ghost: 0 }
  const held = keys.map((key) => ({ key, velocity: 80, pedalled: false }))
  return {
    type: 'players',
    at: 3_000_000,
    players: [{ player: 'keys', keys: held, bendCents: 0, heardAt: 1, notes: 3, dropped: 0, drops }],
  }
}

test('the song that plays goes on in another tuning and back, also what sounds; a part keeps its own', () => {
  const show = demoShow()
  const songs = show.songs.map((song) => ({
    ...song,
    parts: song.parts.map((part) => (part.id === 'drips' ? { ...part, tuning: 'twelfth' } : part)),
  }))
  return inRoom(
    async ({ page, say, asked }) => {
      const now = page.locator('lan-tuning-now')
      const words = () => shadowText(now)
      const last = async () => (await asked()).at(-1)
      await expect.poll(words).toContain('Dew on the panes plays in even, its own tuning.')
      expect(await words()).toContain('Parts with a tuning of their own stay in it: drips.')
      await now.getByRole('button', { name: 'nineteen' }).click()
      await expect.poll(last).toEqual({ v: 1, type: 'tune', tuning: 'nineteen', retune: false })
      // Nothing is shown before the host has said so.
      expect(await words()).toContain('its own tuning')
      await say({ type: 'tuned', tuning: 'nineteen' })
      await expect.poll(words).toContain('plays in nineteen; its own is even.')
      expect(await now.getByRole('button', { name: 'nineteen', pressed: true }).count()).toBe(1)
      await expect
        .poll(() => shadowText(page.locator('lan-part-pitches')))
        .toContain('Shown in even, the song’s own; it plays in nineteen now.')
      await now.getByRole('button', { name: 'What sounds as well' }).click()
      await now.getByRole('button', { name: 'Its own: even' }).click()
      await expect.poll(last).toEqual({ v: 1, type: 'tune', tuning: null, retune: true })
      await say({ type: 'tuned', tuning: null }, { type: 'song', song: 'mist', position: 1 })
      await expect.poll(words).toContain('Mist clock plays in twelfth, its own tuning.')
    },
    { show: { ...show, songs } },
  )
})

test('a chord: intervals wanted and made, which partials beat, and how lamps agree', () =>
  inRoom(async ({ page, say }) => {
    const pane = page.locator('lan-chord-pane')
    const rows = pane.getByRole('region', { name: 'Intervals of the chord' }).locator('tbody tr')
    const cells = async (at: number) =>
      (await rows.nth(at).locator('td').allInnerTexts()).map((text) => text.replaceAll(/\s+/g, ' '))
    await expect.poll(() => rows.count()).toBe(3)
    // C4 and E4 on a 16 MHz timer: 61156 and 48540 ticks (ATmega640/1280/2560 data sheet, fast PWM).
    const [low, high] = [16e6 / 61156, 16e6 / 48540]
    const made = 1200 * Math.log2(high / low)
    expect(await cells(0)).toEqual([
      `${low.toFixed(3)} ${high.toFixed(3)}`,
      '400.000',
      made.toFixed(3),
      // Less than is wanted, with a minus as it is printed.
      (made - 400).toFixed(2).replace('-', '−'),
      `5:4, +${(made - 1200 * Math.log2(5 / 4)).toFixed(1)} cents`,
      `5th of C4 with 4th of E4: ${Number((4 * high - 5 * low).toPrecision(3))} Hz`,
    ])
    const agree = pane.getByRole('region', { name: 'Agreement on each key' }).locator('tbody tr')
    // Of the part's lamps Sedge is trimmed by −2 cents.
    expect(await agree.first().innerText()).toMatch(/^C4\s+Sedge 261\.\d+ Hz\s+(Fern|Moss|Reed) 261\.\d+ Hz/)

    const keys = pane.getByLabel('Keys of the chord')
    await keys.fill('C4 H4')
    await keys.press('Enter')
    await pane.getByText('found H4; expected keys such as C4 E4 G4').waitFor()
    await keys.fill('a4 57')
    await keys.press('Enter')
    await expect.poll(() => rows.count()).toBe(1)
    await expect.poll(async () => (await cells(0))[4]).toMatch(/^2:1, /)
    await pane.getByLabel('A3 on').selectOption('Sedge')
    // Trimmed 2 cents down, the octave below is wanted that much wider.
    await expect.poll(async () => (await cells(0))[1]).toBe('1202.000')
    await say(holding([55, 62]))
    await pane.getByRole('button', { name: 'Take what Keys holds' }).click()
    await expect.poll(() => keys.inputValue()).toBe('G3 D4')
    await say(holding([]))
    await expect
      .poll(() => pane.getByRole('button', { name: 'Take what Keys holds' }).isDisabled())
      .toBe(true)
    // What was taken stays.
    expect(await keys.inputValue()).toBe('G3 D4')
  }))

test('keys that the tuning leaves out are shown as such: in words, picture, table and chord', () =>
  inRoom(
    async ({ page }) => {
      const room = page.locator(ROOM)
      // Five black keys in each of ten octaves, and C#9, D#9, F#9.
      await expect
        .poll(() => shadowText(room))
        .toContain('53 keys are not mapped: they have no pitch in this tuning.')
      const row = page.locator('lan-pitch-rows tbody tr').nth(61)
      expect((await row.innerText()).replaceAll(/\s+/g, ' ')).toBe('C#4 61 no pitch not mapped no lamp')
      expect(await room.locator('lan-cents-picture text.unmapped').count()).toBeGreaterThanOrEqual(53)
      const keys = room.getByLabel('Keys of the chord')
      await keys.fill('C4 C#4 G4')
      await keys.press('Enter')
      await room.getByText('C#4 (61) has no pitch in this tuning: it is not mapped.').waitFor()
      const rows = room.getByRole('region', { name: 'Intervals of the chord' }).locator('tbody tr')
      await expect.poll(() => rows.count()).toBe(1)
      // 3/2 is 701.955 cents.
      expect(await rows.locator('td').nth(1).innerText()).toBe('701.955')
    },
    { show: whiteKeys() },
  ))

test.each(ROOM_SIZES)(
  'a chord of five keys at %i by %i: no faults of access, nothing wider than the room',
  (width, height) =>
    inRoom(
      async ({ page, say }) => {
        await say({ type: 'tuned', tuning: 'nineteen' })
        const keys = page.locator(ROOM).getByLabel('Keys of the chord')
        await keys.fill('C3 G3 E4 Bb4 D5')
        await keys.press('Enter')
        const rows = page.getByRole('region', { name: 'Intervals of the chord' }).locator('tbody tr')
        await expect.poll(() => rows.count()).toBe(10)
        expect(await overhang(page)).toBeLessThanOrEqual(0)
        expect(await roomFaults(page, ROOM)).toEqual([])
        await takePicture(page, 'tuning-now')
        await scrollTo(page, 'lan-chord-pane')
        await takePicture(page, 'tuning-chord')
      },
      { width, height },
    ),
)
