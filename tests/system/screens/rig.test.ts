import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import type { HostWord } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'
import { wideRigShow } from '../../support/wide-rig.ts'

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

function port(id: string, state: 'ambiguous' | 'cut' | 'missing', message: string): HostWord {
  return { type: 'port', port: { id, kind: 'midi-in', name: id, state, message } }
}

async function withRig(
  work: (house: EditedHouse) => Promise<void>,
  more: readonly HostWord[] = [PORTS],
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#rig', more })
  try {
    await house.page.getByRole('heading', { name: 'Rig', level: 1 }).waitFor()
    await work(house)
  } finally {
    await house.close()
  }
}

/** What was asked besides edits and entering. */
async function asks(house: EditedHouse): Promise<Record<string, unknown>[]> {
  const asked = await house.screen.asked()
  return asked
    .filter(({ type }) => type !== 'edit' && type !== 'enter')
    .map((one) => Object.fromEntries(Object.entries(one).filter(([field]) => field !== 'v')))
}

describe('lamps', () => {
  test('are edited in place: what is shown is what the show has, and each change is one edit', () =>
    withRig(async (house) => {
      const watts = house.page.getByRole('spinbutton', { name: 'Watts of Fern, W' })
      await watts.fill('12.5')
      await watts.press('Enter')
      expect((await house.next()).label).toBe('watts of Fern')
      expect(house.show.rig.lamps[0]?.watts).toBe(12.5)
      await expect.poll(() => watts.inputValue()).toBe('12.5')
      await watts.press('ArrowUp')
      await watts.press('ArrowUp')
      await watts.press('Tab')
      await house.next()
      expect(house.show.rig.lamps[0]?.watts).toBe(14.5)
    }))

  test('Escape takes back what was typed, and what is out of range is not asked for', () =>
    withRig(async (house) => {
      const slot = house.page.getByRole('spinbutton', { name: 'Slot of Fern' })
      await slot.fill('400')
      await slot.press('Enter')
      await house.page.getByText('found 400; expected a whole number from 0 to 255').waitFor()
      expect(await slot.getAttribute('aria-invalid')).toBe('true')
      await slot.press('Escape')
      expect(await slot.inputValue()).toBe('0')
      await expect.poll(() => slot.getAttribute('aria-invalid')).toBe(null)
      expect(await house.waiting()).toEqual([])
    }))

  test('what the host refuses is told at the field, which shows the show again', () =>
    withRig(async (house) => {
      const slot = house.page.getByRole('spinbutton', { name: 'Slot of Fern' })
      await slot.fill('1')
      await slot.press('Enter')
      await house.next()
      const fault = house.page.locator('lan-rig-lamps td').getByText(/slot 1 of output "wire" is taken by/)
      await fault.waitFor()
      await expect.poll(() => slot.inputValue()).toBe('0')
      await slot.fill('9')
      await slot.press('Enter')
      await house.next()
      await fault.waitFor({ state: 'detached' })
      expect(house.show.rig.lamps[0]?.slot).toBe(9)
    }))

  test('a removal that parts would feel names them first, and takes the lamp out of them', () =>
    withRig(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Remove Orchid, left of the path' }).click()
      const question = page.getByRole('alert').filter({ hasText: 'is a lamp of' })
      expect(await question.textContent()).toMatch(/drips in .*taps in .*drops in /s)
      expect(await house.waiting()).toEqual([])
      await page.getByRole('button', { name: /Remove Orchid.* also from these parts/ }).click()
      await house.next()
      expect(JSON.stringify(house.show)).not.toContain('orchid')
      await page.getByRole('button', { name: 'Add a lamp' }).click()
      await house.next()
      // Its name is free again.
      await page.getByRole('textbox', { name: 'Name of orchid' }).waitFor()
      expect(house.show.rig.lamps.at(-1)).toMatchObject({ name: 'Orchid', output: 'din', slot: 0 })
    }))

  test('are moved on the plan by arrow keys, one edit when the key is let go', () =>
    withRig(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Place of Fern: x -3.5, y 0.6' }).focus()
      await page.keyboard.down('ArrowRight')
      await page.keyboard.down('ArrowRight')
      await page.getByText('Fern: x -3.3, y 0.6', { exact: true }).waitFor()
      expect(await house.waiting()).toEqual([])
      await page.keyboard.up('ArrowRight')
      await house.next()
      await page.keyboard.press('Shift+ArrowUp')
      await house.next()
      expect(house.show.rig.lamps[0]).toMatchObject({ x: -3.3, y: 1.6 })
    }))

  test('are moved on the plan again before the first move is answered', () =>
    withRig(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Place of Fern: x -3.5, y 0.6' }).focus()
      await page.keyboard.press('ArrowRight')
      await page.keyboard.press('Shift+ArrowUp')
      await page.keyboard.press('ArrowRight')
      for (let edit = 0; edit < 3; edit++) await house.next()
      expect(house.show.rig.lamps[0]).toMatchObject({ x: -3.3, y: 1.6 })
    }))

  test('are moved on the plan by dragging', () =>
    withRig(async (house) => {
      const { page } = house
      const lamp = page.getByRole('button', { name: /^Place of Sedge/ })
      await lamp.scrollIntoViewIfNeeded()
      const box = await lamp.boundingBox()
      if (!box) throw new Error('no lamp to drag')
      await page.mouse.move(box.x + 22, box.y + 22)
      await page.mouse.down()
      await page.mouse.move(box.x + 82, box.y + 22, { steps: 4 })
      await page.mouse.up()
      await house.next()
      const sedge = house.show.rig.lamps[3]
      expect(sedge?.x).toBeGreaterThan(-0.2)
      expect(sedge?.y).toBe(2)
    }))

  test('are found after a word of caution, once', () =>
    withRig(async (house) => {
      const { page, screen } = house
      const find = page.getByRole('button', { name: 'Find Fern' })
      await find.click()
      await page.getByText('lit steadily for up to two seconds').waitFor()
      // The Dark key can be pressed while it stands there.
      await page.getByRole('button', { name: /^Dark/ }).click({ trial: true })
      expect((await asks(house)).filter(({ type }) => type === 'find-lamp')).toEqual([])
      await page.keyboard.press('Escape')
      await find.click()
      await page.getByRole('button', { name: 'Light Fern' }).click()
      await screen.say({ type: 'finding', lamp: 'fern' })
      await page.getByText('Fern is lit to be found.').waitFor()
      expect(await find.getAttribute('aria-pressed')).toBe('true')
      await find.click()
      await screen.say({ type: 'finding', lamp: null })
      await page.getByRole('button', { name: 'Find Moss' }).click()
      await screen.say({ type: 'finding', lamp: null, why: 'moss is lit by a note' })
      await page.locator('lan-rig-lamps').getByText('moss is lit by a note').waitFor()
      expect((await asks(house)).filter(({ type }) => type === 'find-lamp')).toEqual([
        { type: 'find-lamp', lamp: 'fern' },
        { type: 'find-lamp', lamp: null },
        { type: 'find-lamp', lamp: 'moss' },
      ])
    }))
})

describe('ports and players', () => {
  test('ports are listed when the room opens and when asked for, and one of them is chosen', () =>
    withRig(async (house) => {
      const { page } = house
      await page.getByRole('button', { name: 'Look for ports again' }).click()
      await expect.poll(() => asks(house)).toEqual([{ type: 'list-ports' }, { type: 'list-ports' }])
      const wire = page.getByRole('region', { name: 'Output wire' })
      await wire.getByRole('combobox', { name: 'Port' }).selectOption('/dev/ttyUSB0')
      await house.next()
      expect(house.show.rig.outputs[0]?.port).toBe('/dev/ttyUSB0')
      await wire.getByRole('combobox', { name: 'Port' }).selectOption('another, by name …')
      await page.keyboard.press('Control+A')
      await page.keyboard.type('/dev/ttyACM3')
      await page.keyboard.press('Enter')
      await house.next()
      expect(house.show.rig.outputs[0]?.port).toBe('/dev/ttyACM3')
    }))

  test('a port that could be several is chosen, one that was cut is listened to again', () =>
    withRig(
      async (house) => {
        const { page } = house
        await page.getByRole('button', { name: 'Bed 24:0, place 3' }).click()
        await page.getByRole('button', { name: 'Listen to Pads again' }).click()
        expect((await asks(house)).slice(-2)).toEqual([
          { type: 'choose-port', port: 'keys', place: 2 },
          { type: 'listen-again', port: 'pads' },
        ])
      },
      [
        port(
          'keys',
          'ambiguous',
          'Which one is the port "Bed": "Bed 20:0" (place 1 in the list) or "Bed 24:0" (place 3 in the list)? Choose one. 0: Bed 20:0, 2: Bed 24:0',
        ),
        port('pads', 'cut', 'Pads: our own output comes back in'),
      ],
    ))

  test('a player is learned by playing: knobs do not count, again hears anew, Enter takes it', () =>
    withRig(async (house) => {
      const { page, screen } = house
      const bass = page.getByRole('region', { name: 'Player Bass' })
      await screen.say({ type: 'learned', port: 'Old', channel: 16, key: 1 })
      await bass.getByRole('button', { name: 'Learn Bass by playing' }).click()
      await bass.getByText('Play a note on the instrument').waitFor()
      await screen.say({ type: 'learned', port: 'Desk', channel: 1, controller: 7 })
      await screen.say({ type: 'learned', port: 'Pads 24:0', channel: 10, key: 36 })
      await bass.getByText('Heard key 36').waitFor()
      await bass.getByRole('button', { name: 'Play again' }).click()
      await screen.say({ type: 'learned', port: 'Bass 32:0', channel: 6, key: 40 })
      await bass.getByText('Heard key 40').waitFor()
      await page.keyboard.press('Enter')
      await house.next()
      expect(house.show.players[2]?.input).toEqual({ port: 'Bass 32:0', channels: [1, 2, 3, 4, 6] })
      expect((await asks(house)).map(({ type }) => type)).toEqual(['list-ports', 'learn', 'learn-end'])
    }))

  test.each(['Escape', 'another room'])('learning ends by %s', (way) =>
    withRig(async (house) => {
      await house.page.getByRole('button', { name: 'Learn Keys by playing' }).click()
      await house.page.getByText('Play a note on the instrument').waitFor()
      if (way === 'Escape') await house.page.keyboard.press('Escape')
      else await house.page.evaluate('location.hash = "#checks"')
      await expect
        .poll(async () => (await asks(house)).map(({ type }) => type))
        .toEqual(expect.arrayContaining(['learn', 'learn-end']))
    }),
  )

  test('a string instrument: how its strings come, legato, what that costs at worst and has cost so far', () =>
    withRig(async (house) => {
      const { page } = house
      const bass = page.getByRole('region', { name: 'Player Bass' })
      await bass
        .getByText('Set like this, notes are held back 20 ms, ends up to 20 ms, bends up to 2 ms.')
        .waitFor()
      await bass.getByText('So far 36 notes: 18.4 ms on average, 20 ms at worst.').waitFor()
      await bass.getByRole('combobox', { name: 'Strings come' }).selectOption('All on one channel')
      expect((await house.next()).label).toBe('mode of Bass')
      expect(house.show.players[2]).toMatchObject({ mode: 'one-channel', legato: true })
      await bass.getByText('ends up to 20 ms, bends are not.').waitFor()
      await bass.getByRole('checkbox', { name: 'Legato notes are not struck anew' }).click()
      await house.next()
      expect(house.show.players[2]).toMatchObject({ legato: false })
      await bass.getByRole('combobox', { name: 'Strings come' }).selectOption('As the channels say')
      await house.next()
      expect(house.show.players[2]).not.toHaveProperty('mode')
      const smooth = bass.getByRole('spinbutton', { name: 'Bends smoothed over' })
      await smooth.fill('6')
      await smooth.press('Enter')
      await bass.getByText('found 6; expected a number from 0 to 5').waitFor()
      await smooth.fill('5')
      await smooth.press('Enter')
      await house.next()
      await bass.getByText('bends up to 5 ms, 2.5 ms where they move evenly.').waitFor()
    }))

  test('fields of each kind, adding and removing', () =>
    withRig(async (house) => {
      const { page } = house
      const pads = page.getByRole('region', { name: 'Player Pads' })
      await pads.getByRole('spinbutton', { name: 'Length of a hit' }).fill('200')
      await pads.getByRole('textbox', { name: 'Channels' }).fill('10 to 12')
      await house.next()
      await pads.getByRole('textbox', { name: 'Channels' }).press('Enter')
      await house.next()
      expect(house.show.players[1]).toMatchObject({ gateMs: 200, input: { channels: [10, 11, 12] } })
      await page.getByRole('button', { name: 'Remove Pads' }).click()
      await page.getByRole('button', { name: /^Remove Pads and its \d parts/ }).click()
      await house.next()
      await page.getByRole('button', { name: 'Add strings' }).click()
      await house.next()
      await page.getByRole('button', { name: 'Add a supply' }).click()
      await house.next()
      await page.getByRole('button', { name: 'Add a serial output' }).click()
      await house.next()
      expect(house.show.players.map(({ id }) => id)).toEqual(['keys', 'bass', 'strings'])
      expect(house.show.rig.supplies).toHaveLength(2)
      expect(house.show.rig.outputs.map(({ id }) => id)).toEqual(['wire', 'din', 'wire-2'])
      await page.getByRole('button', { name: 'Remove output wire-2' }).click()
      await house.next()
      await page.getByRole('button', { name: 'Remove supply supply' }).click()
      await house.next()
      expect(house.show.rig.supplies.concat(house.show.rig.outputs as never)).toHaveLength(3)
    }))
})

test('a MIDI output: how it bends, and whether it is told the tuning of the song', () =>
  withRig(async (house) => {
    const din = house.page.getByRole('region', { name: 'Output din' })
    await din.getByRole('spinbutton', { name: 'Bits of a bend it goes by' }).fill('7')
    await din.getByRole('combobox', { name: 'Layout' }).focus()
    await house.next()
    await din.getByRole('combobox', { name: 'Layout' }).selectOption('MPE, a lower zone')
    await house.next()
    await expect.poll(() => din.getByRole('spinbutton', { name: 'Bend range' }).inputValue()).toBe('48')
    const telling = din.getByRole('combobox', { name: 'Told the tuning of the song' })
    await telling.selectOption('as a bulk dump')
    await house.next()
    await din.getByRole('spinbutton', { name: 'Tuning program' }).fill('9')
    await din.getByRole('spinbutton', { name: 'Device' }).focus()
    await house.next()
    const mts = { form: 'bulk', program: 9, device: 127 }
    expect(house.show.rig.outputs[1]).toMatchObject({ layout: 'mpe', bendRange: 48, bendBits: 7, mts })
    expect(await roomFaults(house.page, 'lan-rig-room')).toEqual([])
    for (const [width, height] of ROOM_SIZES) {
      await house.page.setViewportSize({ width, height })
      expect(await overhang(house.page)).toBe(0)
      await din.scrollIntoViewIfNeeded()
      await takePicture(house.page, 'rig-told-tuning')
    }
    await telling.selectOption('as an octave, finer')
    await house.next()
    await din.getByRole('spinbutton', { name: 'Tuning program' }).waitFor({ state: 'detached' })
    await telling.selectOption('not at all')
    await house.next()
    expect(house.show.rig.outputs[1]).not.toHaveProperty('mts')
  }))

test('a clock is sent to ports, one of them that of a lamp box, and the beats after a sleep are chosen', () =>
  withRig(async (house) => {
    const { page } = house
    const add = page.getByRole('button', { name: 'Send a clock to another port' })
    await add.click()
    await house.next()
    await page
      .getByRole('region', { name: 'Clock to not chosen yet' })
      .getByRole('combobox', { name: 'Port' })
      .selectOption('Lamp box 28:0')
    await house.next()
    await add.click()
    await house.next()
    await page.getByRole('button', { name: 'Send not chosen yet no clock' }).click()
    await house.next()
    const sleep = page.getByRole('combobox', { name: 'Once the machine is awake, beats' })
    await sleep.selectOption('go on from where they stood')
    await house.next()
    expect(house.show.clock).toEqual({ send: ['Lamp box 28:0'], afterSleep: 'go-on' })
  }))

test('a clock is followed, and followed no more', () =>
  withRig(async (house) => {
    const { page } = house
    await page.getByRole('button', { name: 'Follow a clock' }).click()
    await house.next()
    const card = page.getByRole('region', { name: 'Clock that is followed' })
    await card.getByRole('combobox', { name: 'Port' }).selectOption({ index: 1 })
    await house.next()
    const { follow } = house.show.clock
    expect(follow).toMatch(/\w/)
    await card.getByRole('heading', { name: `${follow} is followed` }).waitFor()
    await card.getByRole('button', { name: 'Follow no clock' }).click()
    await house.next()
    expect(house.show.clock).toEqual({ send: [], afterSleep: 'stop' })
  }))

test('the supply is told in words, more than it may give too', () =>
  withRig(async (house) => {
    const bench = house.page.getByRole('region', { name: 'Supply bench' })
    await bench.getByText('All 10 lamps lit draw 7.67 A; 8 A may be drawn (10 A × 0.8).').waitFor()
    await bench.getByRole('spinbutton', { name: 'Amps it can give' }).fill('5')
    await bench.getByRole('spinbutton', { name: 'Amps it can give' }).press('Enter')
    await house.next()
    await bench.getByText(/3\.67 A too many/).waitFor()
    expect(
      await house.page
        .locator('lan-rig-room')
        .getByText(/\bsafe/i)
        .count(),
    ).toBe(0)
  }))

describe.each(ROOM_SIZES)('at %i by %i', (width, height) => {
  test.each([
    [
      'rig',
      undefined,
      [
        PORTS,
        port('pads', 'cut', 'Pads: our own output comes back in'),
        port('bass', 'missing', 'no port is called "Bass"; plug it in'),
        port('clock Drum tower', 'missing', 'The MIDI output "Drum tower" is not there.'),
      ],
    ],
    ['rig-64', wideRigShow(64), [PORTS]],
    ['rig-unlisted', undefined, []],
  ] as const)('%s: nothing hangs over, nothing is at fault', async (name, show, more) => {
    const clocked = {
      ...demoShow(),
      clock: { follow: 'Bell tower', send: ['Drum tower', 'Lamp box'], afterSleep: 'stop' as const },
    }
    const house = await EditedHouse.open(browser, {
      hash: '#rig',
      width,
      height,
      more,
      show: show ?? clocked,
    })
    const { page } = house
    await page.getByRole('heading', { name: 'Lamps', level: 2 }).waitFor()
    await takePicture(page, name)
    for (const section of ['outputs', 'clock', 'supplies', 'lamps']) {
      await scrollTo(page, `#${section}`)
      await takePicture(page, `${name}-${section}`)
    }
    expect(await overhang(page)).toBe(0)
    // Sixty-four rows are as one row is, and would take a minute.
    expect(show ? [] : await roomFaults(page, 'lan-rig-room')).toEqual([])
    await house.close()
  })
})
