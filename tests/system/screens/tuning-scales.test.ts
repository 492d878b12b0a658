import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { scaleReadWord, scaleWrittenWord } from '../../../app/engine/host/scale-words.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'
import type { ToHost } from '../../../src/contract/to-host.ts'
import { startChromium } from '../../support/chromium.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { inPage } from '../../support/in-page.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'
import { shadowText } from '../../support/shadow-text.ts'

/** As the published description of scale files has it: comment, description, count, pitches; a mapping of white keys. */
const SCL = '! reeds.scl\nReeds, five of them\n 5\n!\n 9/8\n 386.314\n 3/2\n 5/3\n 2/1\n'
const KBM = '! size\n7\n0\n127\n60\n69\n432.0\n5\n0\n1\nx\n2\n3\n4\nx\n'.replace('69\n432', '60\n256')

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

async function opened(
  run: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
  options: Partial<Parameters<typeof EditedHouse.open>[1]> = {},
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#tuning', ...options })
  try {
    await house.page.locator('lan-tuning-entry').first().waitFor()
    await run(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

/** The last thing of that kind that the screen asked for. */
async function lastAsk<Type extends ToHost['type']>(
  house: EditedHouse,
  type: Type,
  count = 1,
): Promise<Extract<ToHost, { type: Type }>> {
  const found = async () => (await house.screen.asked()).filter((one) => one.type === type)
  await expect.poll(async () => (await found()).length).toBe(count)
  return (await found()).at(-1) as Extract<ToHost, { type: Type }>
}

/** Answers as the host would. */
async function answer(house: EditedHouse, word: FromHost): Promise<void> {
  const { v: _, ...rest } = word
  await house.screen.say(rest as Parameters<typeof house.screen.say>[0])
}

async function answerScale(house: EditedHouse, count = 1): Promise<Extract<ToHost, { type: 'read-scale' }>> {
  const asked = await lastAsk(house, 'read-scale', count)
  await answer(house, scaleReadWord(asked))
  return asked
}

/** A file let go over the page, as the system hands it over. */
async function drop(house: EditedHouse, files: readonly (readonly [string, string])[]): Promise<void> {
  await house.page.locator('lan-app').evaluate(
    inPage<void>(`() => {
      const data = new DataTransfer()
      for (const [name, text] of ${JSON.stringify(files)}) data.items.add(new File([text], name))
      window.dispatchEvent(new DragEvent('dragover', { dataTransfer: data, bubbles: true, cancelable: true }))
      window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }))
    }`),
  )
}

describe('adding tunings', () => {
  test('a scale is typed, faults told at their line, and comes into the show with one edit', () =>
    opened(async (house, form) => {
      const { page } = house
      await form.push('A scale, typed')
      await form.type('What it is called', 'Reed grass')
      await form.tabTo('Pitches over the first, which is 1/1')
      await page.keyboard.type('9/8\nthird\n701,955\n2')
      await form.push('Put it into the show')
      const typing = page.locator('lan-scale-typing')
      await expect
        .poll(() => shadowText(typing))
        .toContain('Line 2: found third; expected a ratio such as 3/2')
      expect(await shadowText(typing)).toContain('Line 3: found 701,955; cents are written with a point')
      expect(await house.waiting()).toEqual([])
      // Nothing that was typed is lost.
      const entry = typing.locator('textarea')
      expect(await entry.inputValue()).toBe('9/8\nthird\n701,955\n2')
      await entry.fill('9/8\n386.314\n701.955\n2')
      await typing.getByRole('button', { name: 'Put it into the show' }).click()
      const edit = await house.next()
      expect(edit.label).toBe('add tuning reed-grass')
      expect(edit.changes).toHaveLength(1)
      expect(house.show.tunings[3]).toEqual({
        id: 'reed-grass',
        kind: 'scale',
        name: 'Reed grass',
        pitches: ['9/8', 386.314, 701.955, '2'],
        refNote: 60,
        refHz: 261.625565,
      })
      // The form is done with, and whoever added it stands at it.
      await expect.poll(() => typing.count()).toBe(0)
      await page.locator('li[data-tuning=reed-grass]:focus').waitFor()
    }))

  test('a scale file and a mapping are chosen, read by the host, and put into the show', () =>
    opened(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'A scale file' }).click()
      const form = page.locator('lan-scale-file')
      const file = (name: string, text: string) => ({ name, mimeType: '', buffer: Buffer.from(text) })
      await form.getByLabel('Scale file (.scl)').setInputFiles(file('reeds.scl', SCL.replace('9/8', '9/0')))
      expect(await answerScale(house)).toEqual({
        v: 1,
        type: 'read-scale',
        name: 'reeds.scl',
        scl: SCL.replace('9/8', '9/0'),
      })
      await expect.poll(() => shadowText(form)).toMatch(/reeds\.scl \(line 5\): found .*9\/0/)
      expect(await form.getByRole('button', { name: 'Put it into the show' }).count()).toBe(0)
      await form.getByLabel('Scale file (.scl)').setInputFiles(file('reeds.scl', SCL))
      await answerScale(house, 2)
      await expect.poll(() => shadowText(form)).toContain('Reeds, five of them. 5 pitches; it repeats at 2/1')
      await form.getByLabel('Keyboard mapping').setInputFiles(file('white.kbm', KBM))
      expect(await answerScale(house, 3)).toMatchObject({ scl: SCL, kbm: KBM })
      await expect
        .poll(() => shadowText(form))
        .toContain(
          'reeds.scl with white.kbm: Reeds, five of them. 5 pitches; it repeats at 2/1, 1200 cents. C4 (60) sounds 256.000 Hz, with a key map.',
        )
      await form.getByRole('button', { name: 'Put it into the show' }).click()
      await house.next()
      expect(house.show.tunings[3]).toMatchObject({
        id: 'reeds-five-of-them',
        pitches: ['9/8', 386.314, '3/2', '5/3', '2/1'],
        map: { degrees: [0, 1, null, 2, 3, 4, null], middle: 60 },
        refHz: 256,
      })
      await expect.poll(() => form.count()).toBe(0)
    }))

  test('both are dropped on the room; what is no scale is said; elsewhere and under the lock they are not read', () =>
    opened(async (house) => {
      const { page } = house
      await drop(house, [
        ['white.kbm', KBM],
        ['reeds.scl', SCL],
      ])
      expect(await answerScale(house)).toMatchObject({ name: 'reeds.scl', scl: SCL, kbm: KBM })
      const form = page.locator('lan-scale-file')
      await form.getByRole('button', { name: 'Without white.kbm' }).click()
      expect(await answerScale(house, 2)).not.toHaveProperty('kbm')
      await drop(house, [
        ['notes.txt', 'hello'],
        ['large.scl', 'x'.repeat(1_000_001)],
      ])
      await expect.poll(() => shadowText(form)).toContain('notes.txt: this is no scale file')
      expect(await shadowText(form)).toContain('large.scl: it has 2 MB')
      await house.lock(true)
      await page.getByText('Gig lock is on.').waitFor()
      await drop(house, [['reeds.scl', SCL]])
      await page.getByText('Unlock first.').first().waitFor()
      expect(await form.getByRole('button', { name: 'Put it into the show' }).isDisabled()).toBe(true)
      await lastAsk(house, 'read-scale', 2)
    }))

  test('a scale of the house, with what it is good for; equal steps; as a player sends it', () =>
    opened(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'A scale of the house' }).click()
      await lastAsk(house, 'ask-scales')
      const scale = { name: 'Five harmonics', pitches: ['9/8', '2/1'], refNote: 60, refHz: 264 }
      await house.screen.say({
        type: 'scales',
        scales: [{ id: 'harmonics-five', about: 'Open and bright; two lamps beat on nothing.', scale }],
      })
      await page.getByText('Open and bright; two lamps beat on nothing.').waitFor()
      await page.getByRole('button', { name: 'Put Five harmonics into the show' }).click()
      await house.next()
      expect(house.show.tunings[3]).toEqual({ id: 'harmonics-five', kind: 'scale', ...scale })
      await page.getByRole('button', { name: 'Equal steps' }).click()
      await house.next()
      await page.getByRole('button', { name: 'As a player sends it' }).click()
      await house.next()
      expect(house.show.tunings.slice(4)).toMatchObject([
        { id: 'tuning', kind: 'equal' },
        { id: 'from-keys', kind: 'received', player: 'keys', base: 'even' },
      ])
      const received = page.locator('lan-tuning-entry', { hasText: 'from-keys' })
      await received.getByLabel('Sent by').selectOption('bass')
      await house.next()
      await received.getByLabel('Bank').fill('3')
      await received.getByLabel('Bank').press('Enter')
      await house.next()
      await received.getByLabel('Until it is sent, as').selectOption('nineteen')
      await house.next()
      expect(house.show.tunings[5]).toMatchObject({ player: 'bass', bank: 3, base: 'nineteen' })
      await expect
        .poll(() => page.getByRole('button', { name: 'Remove tuning nineteen' }).isDisabled())
        .toBe(true)
    }))
})

describe('a scale of the show', () => {
  const withScale = async (house: EditedHouse): Promise<void> => {
    const scale = {
      id: 'reeds',
      kind: 'scale',
      name: 'Reeds',
      pitches: ['9/8', '3/2', '2/1'],
      refNote: 60,
      refHz: 264,
    }
    await house.changeElsewhere([{ do: 'insert', path: ['tunings', 3], value: scale }])
    await house.page.locator('lan-tuning-entry', { hasText: 'Reeds' }).waitFor()
  }

  test('its pitches, reference, description and key map are set; what the host refuses stands at its field', () =>
    opened(async (house) => {
      await withScale(house)
      const entry = house.page.locator('lan-tuning-entry').nth(3)
      const pitches = entry.getByLabel('Pitches over the first')
      await pitches.fill('9/8 5/4 3/2 2/1')
      await entry.getByLabel('Description').fill('Reeds of May')
      // Going on to another field commits; its edit waits for the one before it.
      await house.next()
      await entry.getByLabel('Description').press('Enter')
      await house.next()
      expect(house.show.tunings[3]).toMatchObject({
        name: 'Reeds of May',
        pitches: ['9/8', '5/4', '3/2', '2/1'],
      })
      await entry.getByLabel('Keys', { exact: true }).selectOption('by a key map')
      await house.next()
      const map = { first: 0, last: 127, middle: 60, formalOctave: 4, degrees: [] }
      expect(house.show.tunings[3]).toMatchObject({ map })
      await entry.getByLabel('Degrees, key by key').fill('x 1 2')
      await entry.getByLabel('Degrees, key by key').press('Enter')
      // Key 60, the reference, would have no pitch then.
      await house.next()
      await expect.poll(() => shadowText(entry)).toContain('the map leaves key 60 out')
      await entry.getByLabel('Degrees, key by key').fill('0 1 x')
      await entry.getByLabel('Degrees, key by key').press('Enter')
      await house.next()
      expect(house.show.tunings[3]).toMatchObject({ map: { ...map, degrees: [0, 1, null] } })
    }))

  test('is saved as two files, with what the host writes of it as it is now', () =>
    opened(async (house) => {
      await withScale(house)
      const { page } = house
      await page.getByRole('button', { name: 'Save as files: tuning reeds' }).click()
      expect(await lastAsk(house, 'write-scale')).toMatchObject({ tuning: 'reeds' })
      const written = scaleWrittenWord(house.show, 'reeds')
      if (written.type !== 'scale-written') throw new Error('nothing is written')
      await answer(house, written)
      for (const [name, text] of [
        ['reeds.scl', written.scl],
        ['reeds.kbm', written.kbm],
      ] as const) {
        const link = page.getByRole('link', { name })
        expect(await link.getAttribute('download')).toBe(name)
        const inFile = await link.evaluate(
          inPage<Promise<string>>('(one) => fetch(one.href).then((file) => file.text())'),
        )
        expect(inFile).toBe(text)
      }
      // Only the one that was asked for offers files.
      expect(await page.locator('lan-scale-save a').count()).toBe(2)
    }))
})

test.each(ROOM_SIZES)(
  'ways to add at %i by %i: no faults of access, nothing wider than the room',
  (width, height) =>
    opened(
      async (house) => {
        const { page } = house
        await drop(house, [
          ['reeds.scl', SCL],
          ['white.kbm', KBM],
        ])
        await answerScale(house)
        await page.getByRole('button', { name: 'Put it into the show' }).waitFor()
        expect(await roomFaults(page, 'lan-tuning-room')).toEqual([])
        await takePicture(page, 'tuning-file')
        await page.getByRole('button', { name: 'Put it into the show' }).click()
        await house.next()
        await page.getByRole('button', { name: 'A scale, typed' }).click()
        const typed = page.locator('lan-scale-typing textarea')
        await typed.fill('9/8\nthird')
        await typed.press('Tab')
        await page.getByText('Line 2: found third').waitFor()
        expect(await overhang(page)).toBeLessThanOrEqual(0)
        expect(await roomFaults(page, 'lan-tuning-room')).toEqual([])
        await scrollTo(page, 'lan-scale-typing')
        await takePicture(page, 'tuning-typed')
        await scrollTo(page, 'li[data-tuning=reeds-five-of-them]')
        await takePicture(page, 'tuning-scale')
      },
      { width, height },
    ),
)
