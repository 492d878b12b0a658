import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { countDraws, drawsOf } from '../../support/in-page.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'
import { shadowText } from '../../support/shadow-text.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'
import { tuningWords } from '../../support/tuning-words.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

const ROOM = 'lan-tuning-room'

async function open(
  words: HostWord[] = [tuningWords('dew', 'lead')],
  { hash = '#tuning', width = 1280, height = 800 } = {},
): Promise<ScreenPage> {
  const screen = await openScreenPage(browser, { first: houseWords(), hash, width, height })
  await expect.poll(() => asks(screen)).toHaveLength(1)
  await screen.say(...words)
  return screen
}

async function asks(screen: ScreenPage): Promise<string[]> {
  return (await screen.asked()).flatMap((one) =>
    one.type === 'ask-tuning' ? [`${one.song}/${one.part}`] : [],
  )
}

async function edits(screen: ScreenPage): Promise<unknown[]> {
  return (await screen.asked()).filter(({ type }) => type === 'edit')
}

function shown(revision: number): HostWord {
  const show = houseWords().find((word) => word.type === 'show')
  if (show?.type !== 'show') throw new Error('no show is said')
  return { ...show, revision }
}

describe('pitches of the Tuning room', () => {
  test('asks for the playing song, its first part; then for what is chosen, and the address says it', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    expect(await asks(screen)).toEqual(['dew/lead'])
    await room.getByLabel('Song', { exact: true }).selectOption({ label: 'Mist clock' })
    await expect.poll(() => asks(screen)).toEqual(['dew/lead', 'mist/arc'])
    await room.getByLabel('Part', { exact: true }).selectOption('roots')
    await expect.poll(() => asks(screen)).toEqual(['dew/lead', 'mist/arc', 'mist/roots'])
    expect(new URL(screen.page.url()).hash).toBe('#tuning/mist/roots')
    // What comes for another part by now is not shown as this one's.
    await screen.say(tuningWords('mist', 'arc'))
    expect(await shadowText(room)).toContain('Working out the pitches of roots')
    await screen.say(tuningWords('mist', 'roots'))
    await expect.poll(() => shadowText(room)).toContain('Farthest off')
    await screen.page.goBack()
    await expect.poll(() => asks(screen)).toHaveLength(4)
    expect((await asks(screen)).at(-1)).toBe('mist/arc')
    await screen.close()
  })

  test('an address that names nothing there is says so', async () => {
    const screen = await open([], { hash: '#tuning/fog/lead' })
    await expect
      .poll(() => shadowText(screen.page.locator(ROOM)))
      .toContain('There is no song "fog" in this show.')
    expect(await asks(screen)).toEqual(['dew/lead'])
    await screen.close()
  })

  test('asks again when the show changes, once for many changes', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await screen.say(shown(2), shown(3))
    await expect.poll(() => shadowText(room)).toContain('working out the pitches anew')
    await expect.poll(() => asks(screen)).toHaveLength(2)
    await screen.say(tuningWords('dew', 'lead', { revision: 3 }))
    await expect.poll(() => shadowText(room)).not.toContain('anew')
    expect(await asks(screen)).toHaveLength(2)
    await screen.close()
  })

  test('every key of the part, as the host has it', async () => {
    const screen = await open()
    const { rows } = tuningWords('dew', 'lead').lamps[0] ?? { rows: [] }
    await screen.page.locator(ROOM).getByLabel('Lamp', { exact: true }).selectOption('Fern')
    const lines = screen.page.locator('lan-pitch-rows tbody tr')
    await expect.poll(() => lines.count()).toBe(rows.length)
    // Note 69 on a 16 MHz timer: 36363 ticks, 439.9956 Hz, -0.0173 cents (ATmega640/1280/2560 data sheet, fast PWM).
    expect((await lines.nth(69).innerText()).split(/\s+/)).toEqual([
      'A4',
      '69',
      '440.000',
      '440.000',
      '439.996',
      '\u22120.02',
    ])
    await screen.close()
  })

  test('refused keys are marked, in the picture, the table and the words', async () => {
    const answer = tuningWords('dew', 'lead')
    const lamps = answer.lamps.map(({ lamp, rows }) => ({
      lamp,
      rows: rows.map((row) =>
        lamp === 'fern' && row.key < 10 ? { key: row.key, asked: row.asked, octaves: null } : row,
      ),
    }))
    const screen = await open([{ ...answer, lamps }])
    const room = screen.page.locator(ROOM)
    await expect.poll(() => shadowText(room)).toContain('Refused keys: Fern 10.')
    expect(await room.locator('lan-cents-picture text.refused').count()).toBe(10)
    expect(await room.locator('lan-pitch-rows tbody tr').first().innerText()).toContain('refused by Fern')
    await room.getByLabel('Lamp', { exact: true }).selectOption('Fern')
    await expect.poll(() => room.locator('lan-pitch-rows tbody tr').first().innerText()).toContain('refused')
    await screen.close()
  })

  test('a lamp that the strategy never lights is named', async () => {
    const answer = tuningWords('dew', 'lead')
    const lamps = answer.lamps.map((one) => (one.lamp === 'reed' ? { ...one, rows: [] } : one))
    const screen = await open([{ ...answer, lamps }])
    await expect.poll(() => shadowText(screen.page.locator(ROOM))).toContain('never lights Reed.')
    await screen.close()
  })
})

describe('duty and partials', () => {
  test('the duties of the part and of its lit lamps; others to try; vanished partials named', async () => {
    const screen = await open()
    const picture = screen.page.locator('lan-partials-picture')
    const inUse = picture.getByRole('group', { name: 'Duty in use' }).getByRole('button')
    // Of the lamps that are lit in the canned house, the part has Fern and Lotus.
    await expect
      .poll(() => inUse.allInnerTexts())
      .toEqual(['base 30 %', 'low 5 %', 'high 50 %', 'Fern 8 %', 'Lotus 38 %'])
    await expect.poll(() => shadowText(picture)).toContain('Every 10th partial vanishes at a duty of 3/10.')
    await picture.getByRole('button', { name: '1/3' }).click()
    await expect.poll(() => shadowText(picture)).toContain('Every 3rd partial vanishes at a duty of 1/3.')
    expect(await picture.locator('circle.gone').count()).toBe(5)
    await picture.locator('summary').click()
    const sizes = await picture.locator('tbody td:nth-child(2)').allInnerTexts()
    // Any Fourier-series table: duty 1/3, absolute values.
    expect(sizes.slice(0, 5)).toEqual(['0.55133', '0.27566', 'none', '0.13783', '0.11027'])
    const slider = picture.getByRole('slider', { name: 'Try' })
    await slider.fill('0.5')
    await expect.poll(() => shadowText(picture)).toContain('Every 2nd partial vanishes at a duty of 1/2.')
    expect(await picture.locator('circle.gone').count()).toBe(8)
    await slider.press('ArrowRight')
    await expect.poll(() => shadowText(picture)).toContain('50.5 %')
    await screen.close()
  })

  test('follows a lamp that is lit, and keeps what it sounded like when it goes dark', async () => {
    const screen = await open()
    const picture = screen.page.locator('lan-partials-picture')
    const lit = { on: true, part: 'lead', player: 'keys', key: 60, hz: 261.6, realHz: 261.6, cents: 0 }
    await picture.getByRole('button', { name: 'Fern 8 %' }).click()
    await screen.say({ type: 'lamps', at: 1, lamps: [{ ...lit, lamp: 'fern', duty: 0.25 }] })
    await expect.poll(() => shadowText(picture)).toContain('Every 4th partial vanishes')
    await screen.say({ type: 'lamps', at: 2, lamps: [{ lamp: 'fern', on: false }] })
    await expect.poll(() => picture.getByRole('button', { name: /Fern/ }).count()).toBe(0)
    expect(await shadowText(picture)).toContain('Every 4th partial vanishes')
    await screen.close()
  })

  test('lamps of other parts do not draw the room again', async () => {
    const screen = await open()
    const room = screen.page.locator(ROOM)
    await expect.poll(() => shadowText(room)).toContain('Farthest off')
    const fern = { lamp: 'fern', on: true, part: 'lead', player: 'keys', key: 60, duty: 0.31 }
    await screen.say({ type: 'lamps', at: 1, lamps: [fern] })
    await expect.poll(() => room.getByRole('button', { name: 'Fern 31 %' }).count()).toBe(1)
    await room.evaluate(countDraws)
    const others = (at: number): HostWord => ({
      type: 'lamps',
      at,
      lamps: [fern, { lamp: 'ivy', on: true, part: 'drips', player: 'pads', key: 60, duty: at / 100 }],
    })
    for (const at of [2, 3, 4, 5]) await screen.say(others(at))
    await screen.say({ type: 'lamps', at: 6, lamps: [{ ...fern, duty: 0.32 }] })
    await expect.poll(() => room.getByRole('button', { name: 'Fern 32 %' }).count()).toBe(1)
    expect(await room.evaluate(drawsOf)).toBe(1)
    await screen.close()
  })
})

describe('tunings of the show', () => {
  test('fields are edited, added, and removed where no song is in them', async () => {
    const screen = await open()
    const list = screen.page.locator('lan-tuning-list')
    const steps = list.getByLabel('Equal steps').nth(2)
    await steps.fill('31')
    await steps.press('Enter')
    await expect.poll(() => edits(screen)).toHaveLength(1)
    expect((await edits(screen))[0]).toMatchObject({
      base: 1,
      label: 'steps of tuning nineteen',
      changes: [{ do: 'set', path: ['tunings', 2, 'steps'], value: 31 }],
    })
    await screen.say(shown(2))
    await list.getByRole('button', { name: 'Equal steps' }).click()
    await expect.poll(() => edits(screen)).toHaveLength(2)
    expect((await edits(screen))[1]).toMatchObject({
      base: 2,
      changes: [{ do: 'insert', path: ['tunings', 3] }],
    })
    const remove = list.getByRole('button', { name: 'Remove tuning even' })
    expect(await remove.isDisabled()).toBe(true)
    const show = demoShow()
    const songs = show.songs.map((song) => ({ ...song, tuning: 'twelfth' }))
    const word = shown(3)
    await screen.say({ ...word, show: { ...show, songs } } as HostWord)
    await remove.click()
    await expect.poll(() => edits(screen)).toHaveLength(3)
    expect((await edits(screen))[2]).toMatchObject({
      base: 3,
      changes: [{ do: 'remove', path: ['tunings', 0] }],
    })
    await screen.close()
  })

  test('a number out of range is not sent, and says why; a refusal stands beside its field', async () => {
    const screen = await open()
    const list = screen.page.locator('lan-tuning-list')
    const pitch = list.getByLabel('Reference pitch').first()
    await pitch.fill('0')
    await pitch.press('Enter')
    await expect.poll(() => shadowText(list)).toContain('found 0; expected a number above 0')
    expect(await edits(screen)).toEqual([])
    await pitch.fill('442')
    await pitch.press('Enter')
    await expect.poll(() => edits(screen)).toHaveLength(1)
    const label = 'reference pitch of tuning even'
    await screen.say({
      type: 'edit-refused',
      label,
      faults: [{ path: '$.tunings[0].refHz', message: 'not tonight' }],
    })
    await expect.poll(() => shadowText(list)).toContain('not tonight')
    await screen.close()
  })

  test('a song is put into another tuning', async () => {
    const screen = await open()
    await screen.page.locator('lan-tuning-list').getByLabel('Mist clock').selectOption('nineteen')
    await expect.poll(() => edits(screen)).toHaveLength(1)
    expect((await edits(screen))[0]).toMatchObject({
      label: 'tuning of Mist clock',
      changes: [{ do: 'set', path: ['songs', 1, 'tuning'], value: 'nineteen' }],
    })
    await screen.close()
  })
})

describe('the Tuning room at its sizes', () => {
  test.each(ROOM_SIZES)('at %i by %i', async (width, height) => {
    const screen = await open(undefined, { width, height })
    const { page } = screen
    await expect.poll(() => shadowText(page.locator(ROOM))).toContain('Farthest off')
    expect(await overhang(page)).toBeLessThanOrEqual(0)
    expect(await roomFaults(page, ROOM)).toEqual([])
    await takePicture(page, 'tuning')
    await page.locator(ROOM).getByLabel('Lamp', { exact: true }).selectOption('Sedge')
    await page.locator(ROOM).getByRole('button', { name: 'Close up' }).click()
    await takePicture(page, 'tuning-close')
    await scrollTo(page, 'lan-partials-picture figure')
    await takePicture(page, 'tuning-partials')
    await scrollTo(page, 'lan-tuning-list')
    await takePicture(page, 'tuning-list')
    await screen.close()
  })

  test('before anything is known', async () => {
    const screen = await openScreenPage(browser, { hash: '#tuning' })
    await expect.poll(() => shadowText(screen.page.locator(ROOM))).toContain('Waiting for the show.')
    expect(await roomFaults(screen.page, ROOM)).toEqual([])
    await screen.close()
  })
})
