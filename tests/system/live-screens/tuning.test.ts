import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'
import { off, on } from '../../support/live-stage.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { glasshouse } from '../../support/shows.ts'

const house = liveHouse()

/** Twelve intervals of small whole numbers, C at 264 Hz. */
const SCL = `! panes.scl
Panes, by small numbers
 12
 16/15
 9/8
 6/5
 5/4
 4/3
 45/32
 3/2
 8/5
 5/3
 9/5
 15/8
 2/1
`
const KBM = '12\n0\n127\n60\n60\n264.0\n12\n0\n1\n2\n3\n4\n5\n6\n7\n8\n9\n10\n11\n'

test(
  'a scale file is read, a song that plays goes on in it and back, and is put into it: lamps follow',
  REAL_PROCESSES,
  async () => {
    const keys = house.instrument('Keybed')
    const { page, caller, room } = await house.open(glasshouse(), ['keys'])
    /** What lit lamps are asked to sound, by key, to a thousandth of a hertz. */
    const sounding = (): Record<string, string | undefined> =>
      Object.fromEntries(litOf(caller).map(({ key, hz }) => [key, hz?.toFixed(3)]))
    const [e4, g4] = [midiKeyToHz(64).toFixed(3), midiKeyToHz(67).toFixed(3)]
    // 5/4 and 3/2 of 264 Hz.
    const [pureE4, pureG4] = ['330.000', '396.000']

    await room('Tuning')
    await page.getByRole('button', { name: 'A scale file' }).click()
    const file = (name: string, text: string) => ({ name, mimeType: '', buffer: Buffer.from(text) })
    await page.getByLabel('Scale file (.scl)').setInputFiles(file('panes.scl', SCL))
    await page.getByLabel('Keyboard mapping').setInputFiles(file('panes.kbm', KBM))
    await page.getByText('panes.scl with panes.kbm: Panes, by small numbers').waitFor()
    keys.sendMessage(on(64))
    await expect.poll(sounding, SOON).toEqual({ 64: e4 })
    await page.getByRole('button', { name: 'Put it into the show' }).click()
    const id = 'panes-by-small-numbers'
    await expect
      .poll(
        () =>
          caller
            .of('show')
            .at(-1)
            ?.show.tunings.map((one) => one.id),
        SOON,
      )
      .toEqual(['even', id])
    // A tuning that nobody plays in changes nothing that sounds.
    expect(sounding()).toEqual({ 64: e4 })

    const now = page.locator('lan-tuning-now')
    await now.getByRole('button', { name: id }).click()
    await expect.poll(() => caller.of('tuned'), SOON).toEqual([{ v: 1, type: 'tuned', tuning: id }])
    keys.sendMessage(on(67))
    await expect.poll(sounding, SOON).toEqual({ 64: e4, 67: pureG4 })
    await now.getByRole('button', { name: 'What sounds as well' }).click()
    await now.getByRole('button', { name: id }).click()
    await expect.poll(sounding, SOON).toEqual({ 64: pureE4, 67: pureG4 })
    await page.getByRole('button', { name: 'Take what Keys holds' }).click()
    await expect.poll(() => page.getByLabel('Keys of the chord').inputValue(), SOON).toBe('E4 G4')

    await room('Stage')
    await page.getByText(`in the tuning ${id}`).waitFor()
    await page.getByRole('button', { name: /^Back to its own/ }).click()
    await expect.poll(sounding, SOON).toEqual({ 64: e4, 67: g4 })
    await expect.poll(() => page.getByText(`in the tuning ${id}`).count(), SOON).toBe(0)

    await room('Tuning')
    const { title } = caller.of('show').at(-1)?.show.songs[0] ?? { title: '' }
    await page.locator('lan-tuning-list').getByLabel(title, { exact: true }).selectOption(id)
    // It plays on: what sounds goes to its new pitch, on the lamps it has.
    await expect.poll(sounding, SOON).toEqual({ 64: pureE4, 67: pureG4 })
    keys.sendMessage(off(64))
    await expect.poll(sounding, SOON).toEqual({ 67: pureG4 })
    keys.sendMessage(off(67))
    await expect.poll(sounding, SOON).toEqual({})
  },
)
