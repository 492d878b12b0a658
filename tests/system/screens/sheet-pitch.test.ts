import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Part } from '../../../src/domain/song.ts'
import { startChromium } from '../../support/chromium.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

async function opened(
  hash: string,
  run: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash })
  try {
    await run(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

function lead({ show }: EditedHouse): Part | undefined {
  return show.songs[0]?.parts[0]
}

describe('what a part does with pitch and duty, by keyboard alone', () => {
  test('tuning, glide and vibrato', () =>
    opened('#sheet/dew/lead', async (house, form) => {
      const typed = async (name: string, text: string) => {
        await form.type(name, text)
        await house.next()
      }
      await house.page.getByLabel('Tuning of the part').waitFor()
      expect(await house.page.getByLabel('Tuning of the part').locator('option').allInnerTexts()).toEqual([
        'the song’s: even',
        'even',
        'twelfth',
        'nineteen',
      ])
      await form.choose('Tuning of the part', 'nineteen')
      expect(lead(house)?.tuning).toBe('nineteen')
      await form.choose('Tuning of the part', 'the song’s: even')
      expect(lead(house)).not.toHaveProperty('tuning')

      await form.choose('Glide', 'in a time, however far it is')
      expect(lead(house)?.glide).toEqual({ ms: 90, when: 'legato' })
      await typed('Glide takes', '250')
      await form.choose('When it glides', 'always, from what the part sounded last')
      expect(lead(house)?.glide).toEqual({ ms: 250, when: 'always' })
      await form.choose('Glide', 'at a rate: farther takes longer')
      await typed('Glide goes', '1200')
      expect(lead(house)?.glide).toEqual({ centsPerSecond: 1200, when: 'always' })

      await form.choose('Vibrato', 'as much as a controller says')
      await typed('Vibrato, either way', '35')
      await typed('Vibrato rate', '6.2')
      await typed('Begins after the strike', '400')
      await typed('Vibrato controller', '2')
      expect(lead(house)?.vibrato).toEqual({ cents: 35, hz: 6.2, delayMs: 400, controller: 2 })
      const row = house.page.locator('lan-sheet-grid').getByRole('link', { name: /^lead/ })
      await expect
        .poll(() => row.innerText())
        .toContain(
          'glides 1200 cents a second into every note; vibrato 35 cents at 6.2 Hz, 400 ms after the strike, by controller 2',
        )
      await form.choose('Vibrato', 'none')
      await form.choose('Glide', 'none: each note begins at its pitch')
      expect(lead(house)).not.toHaveProperty('vibrato')
      expect(lead(house)).not.toHaveProperty('glide')
    }))

  test('a pulse, with what it comes to and the caution', () =>
    opened('#sheet/dew/lead', async (house, form) => {
      const caution = house.page.locator('lan-pulse-form .caution')
      expect(await caution.count()).toBe(0)
      await form.choose('Pulse', 'so many flashes to so many beats')
      await form.type('Flashes to beats', '3:0')
      await house.page.getByText('expected flashes to beats such as 3:2').waitFor()
      expect(await house.waiting()).toEqual([])
      await form.type('Flashes to beats', '3:2')
      await house.next()
      expect(lead(house)?.pulse).toEqual({ ratio: '3:2' })
      // 97.0625 beats a minute x 3 / 2.
      await expect.poll(() => caution.innerText()).toContain('145.5938 flashes a minute, 2.427 Hz')
      await form.type('Flashes to beats', '4:2')
      await house.next()
      // 97.0625 x 2 / 60 Hz: within 3 to 30 Hz.
      await expect.poll(() => caution.innerText()).toMatch(/3\.235 Hz.*3 to 30 Hz: it can trigger seizures/)
      await form.choose('Moved off the pulse by', 'a controller, from pulse to pitch')
      await form.type('Pulse controller', '11')
      await house.next()
      await form.choose('Pulse', 'so many flashes a minute')
      await form.type('Flashes a minute', '600')
      await house.next()
      expect(lead(house)?.pulse).toEqual({ bpm: 600, controller: 11 })
      await expect.poll(() => caution.innerText()).toContain('10 times a second')
    }))

  test('duty by the key and by a sweep', () =>
    opened('#sheet/dew/lead', async (house, form) => {
      await form.choose('Moved by', 'the key that is played')
      expect(lead(house)?.duty).toEqual({ base: 0.3, low: 0.05, high: 0.5, keys: [28, 64] })
      await form.type('To key', 'C6')
      await house.next()
      await form.type('Duty at the lowest key', '0.1')
      await house.next()
      expect(lead(house)?.duty).toEqual({ base: 0.3, low: 0.1, high: 0.5, keys: [28, 84] })
      await form.choose('Moved by', 'time: it goes up and down slowly')
      await form.type('Up and down again in', '45')
      await house.next()
      expect(lead(house)?.duty).toEqual({ base: 0.3, low: 0.1, high: 0.5, sweepSeconds: 45 })
    }))

  test('a song’s lamps drift', () =>
    opened('#sheet/dew', async (house, form) => {
      await form.choose('Lamps', 'drift, each by itself')
      expect(house.show.songs[0]?.wander).toEqual({ cents: 8, seconds: 20, seed: 1 })
      for (const [name, text] of [
        ['Drift, either way at most', '12'],
        ['Another way every', '7.5'],
        ['Seed: the same drifts the same', '77'],
      ] as const) {
        await form.type(name, text)
        await house.next()
      }
      expect(house.show.songs[0]?.wander).toEqual({ cents: 12, seconds: 7.5, seed: 77 })
      await house.page.getByText('lamps drift 12 cents either way, another way every 7.5 s').waitFor()
      await form.choose('Lamps', 'hold their pitch')
      expect(house.show.songs[0]).not.toHaveProperty('wander')
    }))
})

test.each(ROOM_SIZES)(
  'with all of it at %i by %i: no faults of access, nothing wider than the room',
  async (width, height) => {
    const house = await EditedHouse.open(browser, { hash: '#sheet/dew/lead', width, height })
    await house.page.getByLabel('Tuning of the part').waitFor()
    await house.changeElsewhere([
      { do: 'set', path: ['songs', 0, 'parts', 0, 'glide'], value: { ms: 90, when: 'legato' } },
      {
        do: 'set',
        path: ['songs', 0, 'parts', 0, 'vibrato'],
        value: { cents: 20, hz: 5.5, delayMs: 0, controller: 1 },
      },
      { do: 'set', path: ['songs', 0, 'parts', 0, 'pulse'], value: { ratio: '4:1', controller: 2 } },
      { do: 'set', path: ['songs', 0, 'parts', 0, 'tuning'], value: 'nineteen' },
      { do: 'set', path: ['songs', 0, 'wander'], value: { cents: 8, seconds: 20, seed: 1 } },
    ])
    await house.page.locator('lan-pulse-form .caution').waitFor()
    expect(await overhang(house.page)).toBeLessThanOrEqual(0)
    expect(await roomFaults(house.page, 'lan-sheet-room')).toEqual([])
    await takePicture(house.page, 'sheet-pitch')
    await scrollTo(house.page, 'lan-part-pitch')
    await takePicture(house.page, 'sheet-pitch-form')
    await house.close()
  },
)
