import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Pattern, PatternStep } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import type { HostWord } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

const SHOW = demoShow()
/** Five against four: two rows on the pads' lamps, in the variant without a bass. */
const SONG = 'growth-bare'

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

function at(orchid: number, sundew: number, muted = [false, false]): HostWord {
  return {
    type: 'steps',
    at: 3_000_000,
    parts: [{ part: 'drops', pattern: 'five', rows: [orchid, sundew], muted }],
  }
}

const PLAYS: HostWord[] = [{ type: 'song', song: SONG, position: 2 }, at(2, 3)]

async function opened(
  run: (house: EditedHouse) => Promise<void>,
  options: { hash?: string; more?: readonly HostWord[]; width?: number; height?: number; show?: Show } = {},
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#steps', more: PLAYS, ...options })
  try {
    await house.page.locator('lan-step-grid').waitFor()
    await run(house)
  } finally {
    await house.close()
  }
}

function pattern({ show }: EditedHouse, id = 'five'): Pattern {
  const found = show.songs.find((song) => song.id === SONG)?.patterns.find((one) => one.id === id)
  if (!found) throw new Error(`no pattern ${id}`)
  return found
}

function stepsOf(house: EditedHouse, row: number): readonly PatternStep[] {
  return pattern(house).rows[row]?.steps ?? []
}

/** A step by its row's lamp and its place, counted from 1. */
function cell({ page }: EditedHouse, lamp: string, step: number): Locator {
  return page.getByRole('grid').getByRole('button', { name: new RegExp(`^${lamp}, step ${step}:`) })
}

const orchid = (house: EditedHouse, step: number): Locator => cell(house, 'Orchid, left of the path', step)
const sundew = (house: EditedHouse, step: number): Locator => cell(house, 'Sundew, right of the path', step)

describe('what is shown', () => {
  test('the pattern that runs is offered first, and each row says where it stands, by a mark and in figures', () =>
    opened(async (house) => {
      const { page, screen } = house
      await page.getByRole('heading', { name: 'Five against four' }).waitFor()
      const now = page.locator('lan-step-grid td.now')
      await expect
        .poll(() => now.evaluateAll((all) => all.map((one) => one.getAttribute('data-index'))))
        .toEqual(['2', '3'])
      const row = page.getByRole('row', { name: /Orchid/ })
      expect((await row.locator('.where').innerText()).replace(/\s+/g, ' ')).toBe('3 of 5')
      await screen.say(at(3, 0, [false, true]))
      await expect
        .poll(async () => (await row.locator('.where').innerText()).replace(/\s+/g, ' '))
        .toBe('4 of 5')
      const other = page.getByRole('row', { name: /Sundew/ }).locator('.where')
      expect((await other.innerText()).replace(/\s+/g, ' ')).toBe('1 of 4, muted')
    }))

  test('without one that runs, the first song that has a pattern; songs and patterns have addresses', () =>
    opened(
      async ({ page }) => {
        await page.getByRole('heading', { name: 'Five against four' }).waitFor()
        expect(await page.locator('td.now').count()).toBe(0)
        await page.getByLabel('Song', { exact: true }).selectOption('mist')
        await page.getByText('Mist clock has no pattern yet.').waitFor()
        await page.getByLabel('Song', { exact: true }).selectOption(SONG)
        await expect.poll(() => page.url()).toContain(`#steps/${SONG}`)
        await page.getByRole('link', { name: 'Five against four' }).click()
        await expect.poll(() => page.url()).toContain(`#steps/${SONG}/five`)
      },
      { more: [] },
    ))

  test('on the Stage: the pattern by name, and the step of each row', () =>
    opened(async ({ page, screen }) => {
      await page.getByRole('navigation', { name: 'Rooms' }).getByRole('link', { name: 'Stage' }).click()
      const strip = page.getByRole('list', { name: 'Patterns' })
      await strip.getByText('Five against four').waitFor()
      await screen.say(at(4, 1))
      await expect.poll(() => strip.locator('b').allInnerTexts()).toEqual(['5 of 5', '2 of 4'])
      expect(await overhang(page)).toBe(0)
      await takePicture(page, 'stage-steps')
    }))
})

describe('by mouse', () => {
  test('a click makes a rest of a note, and a note of a rest: what was there comes back', () =>
    opened(async (house) => {
      const before = stepsOf(house, 0)
      await orchid(house, 1).click()
      await house.next()
      expect(stepsOf(house, 0)[0]).toBe(0)
      await orchid(house, 1).click()
      const edit = await house.next()
      expect(stepsOf(house, 0)).toEqual(before)
      // One small change, by its way into the show.
      expect(edit.changes.map(({ path }) => path)).toEqual([
        ['songs', 3, 'patterns', 0, 'rows', 0, 'steps', 0],
      ])
      // A rest that was always one sounds what was used last: the accented one that just came back.
      await orchid(house, 2).click()
      await house.next()
      expect(stepsOf(house, 0)[1]).toEqual({ note: 84, accent: true })
    }))

  test('a stroke along a row is one edit, one step of undo, and stays in its row', () =>
    opened(async (house) => {
      const { page } = house
      const middle = async (one: Locator): Promise<{ x: number; y: number }> => {
        const box = await one.boundingBox()
        if (!box) throw new Error('not to be seen')
        return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
      }
      const from = await middle(orchid(house, 2))
      const to = await middle(sundew(house, 3))
      await page.mouse.move(from.x, from.y)
      await page.mouse.down()
      const end = await middle(orchid(house, 5))
      await page.mouse.move(end.x, from.y, { steps: 3 })
      await page.mouse.move(to.x, to.y, { steps: 3 })
      await page.mouse.up()
      const edit = await house.next()
      expect(edit.label).toContain('4 steps of Orchid')
      expect(
        stepsOf(house, 0)
          .slice(1)
          .every((step) => step !== 0 && step.note === 60),
      ).toBe(true)
      expect(stepsOf(house, 1)).toEqual(SHOW.songs[3]?.patterns[0]?.rows[1]?.steps)
      expect(await house.waiting()).toEqual([])
      await page.getByRole('button', { name: 'Undo it' }).click()
      await expect.poll(async () => (await house.screen.asked()).at(-1)?.type).toBe('undo')
    }))

  test('rows are made longer and shorter, muted, added and removed', () =>
    opened(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Make Orchid, left of the path one step longer' }).click()
      await house.next()
      expect(stepsOf(house, 0)).toHaveLength(6)
      await page.getByRole('button', { name: 'Make Sundew, right of the path one step shorter' }).click()
      await house.next()
      expect(stepsOf(house, 1)).toHaveLength(3)
      await page.getByRole('button', { name: 'Mute Sundew, right of the path' }).click()
      await house.next()
      expect(pattern(house).rows[1]?.muted).toBe(true)
      await page.getByRole('button', { name: 'Add a row' }).click()
      await house.next()
      // Both lamps of the part have a row: a second one of the first.
      expect(pattern(house).rows[2]).toMatchObject({ id: 'orchid-2', lamp: 'orchid', steps: [0, 0, 0] })
      await cell(house, String.raw`Orchid, left of the path \(orchid-2\)`, 2).click()
      await house.next()
      await page.getByRole('button', { name: 'Remove the row' }).click()
      await house.next()
      expect(pattern(house).rows.map(({ id }) => id)).toEqual(['orchid', 'sundew'])
    }))

  test('a tap may only choose; the panel changes the chosen step and its row', () =>
    opened(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Tap chooses' }).click()
      await sundew(house, 3).click()
      await page.getByRole('heading', { name: 'Step 3 of Sundew, right of the path' }).waitFor()
      expect(await house.waiting()).toEqual([])
      const panel = page.getByRole('region', { name: 'The chosen step' })
      const typed = async (label: string, text: string): Promise<void> => {
        await panel.getByLabel(label, { exact: true }).fill(text)
        await panel.getByLabel(label, { exact: true }).press('Enter')
        await house.next()
      }
      await typed('Note', 'F#5')
      await typed('Duty', '0.3')
      await typed('Sounds, in steps', '1.5')
      await typed('Chance', '0.4')
      await panel.getByLabel('Accent').click()
      await house.next()
      // F#5 is key 78 where C4 is 60 (common practice, no source).
      expect(stepsOf(house, 1)[2]).toEqual({ note: 78, duty: 0.3, gate: 1.5, chance: 0.4, accent: true })
      await sundew(house, 3)
        .and(page.getByRole('button', { name: /F#5, accent, sounds 1.5 steps, duty 30 %, chance 40 %/ }))
        .waitFor()
      const row = page.getByRole('region', { name: 'Its row' })
      await row.getByLabel('Swing').fill('0.25')
      await row.getByLabel('Swing').press('Enter')
      await house.next()
      expect(pattern(house).rows[1]?.swing).toBe(0.25)
      await row.getByLabel('Steps').fill('300')
      await row.getByLabel('Steps').press('Enter')
      await row.getByText(/256/).waitFor()
    }))
})

describe('by keys', () => {
  test('one stop of Tab, arrows between rows of different lengths, and keys that change the step', () =>
    opened(async (house) => {
      const { page } = house
      await orchid(house, 1).focus()
      const focused = (): Promise<string> =>
        page.evaluate<string>(`(() => {
          let one = document.activeElement
          while (one.shadowRoot?.activeElement) one = one.shadowRoot.activeElement
          return one.getAttribute('aria-label')
        })()`)
      const press = async (...keys: string[]): Promise<void> => {
        for (const key of keys) await page.keyboard.press(key)
      }
      await press('ArrowRight', 'ArrowRight', 'ArrowRight', 'ArrowRight')
      expect(await focused()).toMatch(/^Orchid, left of the path, step 5: D6/)
      await press('ArrowDown')
      expect(await focused()).toMatch(/^Sundew, right of the path, step 4: rest/)
      expect(await page.locator('lan-step-grid button[tabindex="0"]').count()).toBe(1)
      await press('Enter')
      await house.next()
      // What was gone over last is what a rest sounds.
      expect(stepsOf(house, 1)[3]).toEqual({ note: 86 })
      for (const [key, note] of [
        ['+', 87],
        ['-', 86],
        ['PageDown', 74],
        ['4', 62],
      ] as const) {
        await press(key)
        await house.next()
        expect(stepsOf(house, 1)[3]).toEqual({ note })
      }
      await press('a')
      await house.next()
      expect(stepsOf(house, 1)[3]).toEqual({ note: 62, accent: true })
      await press('Delete')
      await house.next()
      expect(stepsOf(house, 1)[3]).toBe(0)
      await press(' ')
      await house.next()
      expect(stepsOf(house, 1)[3]).toEqual({ note: 62, accent: true })
      await press('Home')
      expect(await focused()).toBe('Mute Sundew, right of the path')
      await press('End')
      expect(await focused()).toBe('Make Sundew, right of the path one step longer')
      // Undo and redo are the page's, from inside the grid too.
      await press('Control+z')
      await expect.poll(async () => (await house.screen.asked()).at(-1)?.type).toBe('undo')
    }))

  test('while the gig lock is on nothing is edited, by any means', () =>
    opened(async (house) => {
      const { page } = house
      await house.lock(true)
      await page.locator('lan-step-grid table[aria-readonly="true"]').waitFor()
      await orchid(house, 1).click({ force: true })
      for (const key of ['Enter', '+', 'a', 'Delete', '5']) await page.keyboard.press(key)
      await page.getByRole('button', { name: 'Mute Sundew, right of the path' }).click({ force: true })
      await page
        .getByRole('button', { name: 'Make Orchid, left of the path one step longer' })
        .click({ force: true })
      for (const name of ['Add a pattern', 'Add a row', 'Copy the pattern', 'Remove the row', 'Add a pad'])
        expect(await page.getByRole('button', { name, exact: true }).isDisabled()).toBe(true)
      expect(await house.waiting()).toEqual([])
    }))
})

test('by touch: a tap toggles, a stroke paints, and every step is at least 24 by 24 CSS pixels (WCAG 2.2, 2.5.8)', async () => {
  const { width, height } = { width: 820, height: 1180 }
  await opened(
    async (house) => {
      const { page } = house
      const box = await orchid(house, 2).boundingBox()
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44)
      const touch = await page.context().newCDPSession(page)
      const finger = (type: string, x: number, y: number): Promise<unknown> =>
        touch.send('Input.dispatchTouchEvent', {
          type: type as 'touchStart',
          touchPoints: type === 'touchEnd' ? [] : [{ x, y }],
        })
      const [x, y] = [(box?.x ?? 0) + 20, (box?.y ?? 0) + 20]
      await finger('touchStart', x, y)
      await finger('touchEnd', x, y)
      await house.next()
      expect(stepsOf(house, 0)[1]).toEqual({ note: 60 })
      await finger('touchStart', x, y)
      for (let by = 20; by <= 2 * (box?.width ?? 0); by += 20) await finger('touchMove', x + by, y)
      await finger('touchEnd', x, y)
      const edit = await house.next()
      // From a note: the stroke makes rests, of steps 2, 3 and 4, of which the fourth is one.
      expect(edit.changes.length).toBe(2)
      expect(stepsOf(house, 0).slice(1, 4)).toEqual([0, 0, 0])
    },
    { width, height },
  )
})

test('patterns are added, named, copied and removed; the last one that a part plays stays', () =>
  opened(async (house) => {
    const { page } = house
    const song = () => house.show.songs.find(({ id }) => id === SONG)
    expect(await page.getByRole('button', { name: 'Remove the pattern' }).isDisabled()).toBe(true)
    await page.getByRole('button', { name: 'Copy the pattern' }).click()
    await house.next()
    await expect.poll(() => page.url()).toContain(`#steps/${SONG}/five-against-four-copy`)
    await page.getByRole('button', { name: 'Add a pattern' }).click()
    await house.next()
    await page.getByRole('heading', { name: 'New pattern' }).waitFor()
    await page.getByLabel('Name', { exact: true }).fill('Rain')
    await page.getByLabel('Name', { exact: true }).press('Enter')
    await house.next()
    await page.getByRole('heading', { name: 'Rain' }).waitFor()
    expect(song()?.patterns.map(({ name }) => name)).toEqual([
      'Five against four',
      'Five against four, copy',
      'Rain',
    ])
    await page.getByRole('button', { name: 'Let drops begin with it' }).click()
    await house.next()
    expect(song()?.parts[2]?.strategy).toEqual({ kind: 'steps', pattern: 'new-pattern', starts: 'hit' })
    await page.getByRole('button', { name: 'Remove the pattern' }).click()
    await house.next()
    expect(song()?.patterns.map(({ id }) => id)).toEqual(['five', 'five-against-four-copy'])
    expect(song()?.parts[2]?.strategy).toMatchObject({ pattern: 'five' })
  }))

/** The demo's pads, with names. */
const named: Show = {
  ...SHOW,
  players: SHOW.players.map((player) =>
    player.kind === 'pads'
      ? {
          ...player,
          pads: [
            { key: 36, name: 'Deep' },
            { key: 38, name: 'Dry' },
            { key: 46, name: 'Ring' },
          ],
        }
      : player,
  ),
}

test('pads: called by their names, told what to do, and learned by hitting', () =>
  opened(
    async (house) => {
      const { page, screen } = house
      const table = page.getByRole('region', { name: 'Pads of the pattern' })
      expect(await table.getByRole('rowheader').allInnerTexts()).toEqual(['Deep', 'Dry', 'F#2', 'Ring'])
      await table.getByLabel('What Ring does').selectOption('mute-row')
      await house.next()
      await table.getByLabel('Row that Ring mutes').selectOption('sundew')
      await house.next()
      expect(pattern(house).pads[3]).toEqual({ key: 46, do: 'mute-row', row: 'sundew' })
      await page.getByRole('button', { name: 'Add a pad by hitting it' }).click()
      await page.getByText('Hit the pad …').waitFor()
      expect((await screen.asked()).at(-1)?.type).toBe('learn')
      await screen.say({ type: 'learned', port: 'Pads', channel: 10, key: 51 })
      await page.getByRole('button', { name: 'Take it' }).click()
      await house.next()
      expect(pattern(house).pads[4]).toEqual({ key: 51, do: 'advance' })
      expect((await screen.asked()).some(({ type }) => type === 'learn-end')).toBe(true)
    },
    { show: named },
  ))

test('in the sheet the pattern of a part is chosen by name', () =>
  opened(async (house) => {
    const { page } = house
    await page.getByRole('button', { name: 'Copy the pattern' }).click()
    await house.next()
    await page.getByRole('link', { name: 'drops' }).click()
    const chosen = page.locator('lan-part-form').getByLabel('Pattern', { exact: true })
    expect((await chosen.locator('option').allInnerTexts()).map((one) => one.trim())).toEqual([
      'Five against four',
      'Five against four, copy',
    ])
    await chosen.selectOption({ label: 'Five against four, copy' })
    await house.next()
    expect(house.show.songs[3]?.parts[2]?.strategy).toMatchObject({ pattern: 'five-against-four-copy' })
  }))

describe.each(ROOM_SIZES)('at %i x %i', (width, height) => {
  test('no fault of access, no scroll sideways', () =>
    opened(
      async (house) => {
        const { page } = house
        await sundew(house, 3).focus()
        await takePicture(page, 'steps')
        expect(await roomFaults(page, 'lan-steps-room')).toEqual([])
        expect(await overhang(page)).toBe(0)
        await scrollTo(page, 'lan-pattern-form')
        await takePicture(page, 'steps-pattern')
      },
      { width, height },
    ))

  test('with long rows too', () =>
    opened(
      async ({ page }) => {
        await takePicture(page, 'steps-long')
        expect(await overhang(page)).toBe(0)
      },
      { width, height, show: longRows(), more: [{ type: 'song', song: SONG, position: 2 }] },
    ))
})

/** The same with six rows of up to 32 steps, of every look. */
function longRows(): Show {
  const lamps = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm']
  const looks = (index: number, row: number): PatternStep => {
    if ((index * (row + 2)) % 3 === 1) return 0
    return {
      note: 48 + ((index * 7 + row * 5) % 36),
      ...(index % 4 === 0 ? { accent: true } : {}),
      ...(index % 5 === 2 ? { chance: 0.4 } : {}),
      ...(index % 6 === 3 ? { gate: 1 } : {}),
    }
  }
  const rows = lamps.map((lamp, row) => ({
    id: lamp,
    lamp,
    steps: Array.from({ length: 32 - 4 * row }, (_, index) => looks(index, row)),
    muted: row === 2,
  }))
  return {
    ...SHOW,
    songs: SHOW.songs.map((song) =>
      song.id === SONG ? { ...song, patterns: song.patterns.map((one) => ({ ...one, rows })) } : song,
    ),
  }
}
