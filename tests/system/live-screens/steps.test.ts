import { expect, test } from 'vitest'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { glasshouse } from '../../support/shows.ts'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'

const HIT = Buffer.of(0x99, 38, 100)

const house = liveHouse()

/** Five against four on two lamps, long enough lit to be seen by a screen. */
function show(): unknown {
  const part = { id: 'grid', player: 'pads', lamps: ['fern', 'moss'], strategy: { kind: 'steps' } }
  const five = {
    id: 'five',
    name: 'Five against four',
    gateMs: 600,
    rows: [
      { lamp: 'fern', steps: [60, 62, 0, 65, 67] },
      { lamp: 'moss', steps: [48, 0, 0, 0] },
    ],
  }
  return glasshouse({
    players: [{ id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] } }],
    songs: [{ id: 'tide', title: 'Tide table', parts: [part], patterns: [five] }],
  })
}

test(
  'the drummer hits, the room shows where each row stands; a step edited meanwhile sounds as it is come to, and no lamp hangs',
  REAL_PROCESSES,
  async () => {
    const pads = house.instrument('Pads')
    const { page, room, caller } = await house.open(show(), ['pads'])
    const rows = (): unknown => caller.of('steps').at(-1)?.parts[0]?.rows
    /** Every key that a lamp was told to sound, in order, without repeats. */
    const sounded = (lamp: string): (number | undefined)[] =>
      caller
        .of('lamps')
        .map(({ lamps }) => lamps.find((one) => one.lamp === lamp))
        .map((one) => (one?.on === true ? one.key : undefined))
        .filter((key, place, all) => key !== all[place - 1])
    const marked = (): Promise<(string | null)[]> =>
      page
        .locator('lan-step-grid td.now')
        .evaluateAll((all) => all.map((one) => one.getAttribute('data-index')))

    await room('Steps')
    await page.getByRole('heading', { name: 'Five against four' }).waitFor()
    expect(await marked()).toEqual([])
    pads.sendMessage(HIT)
    await expect.poll(rows, SOON).toEqual([0, 0])
    await expect.poll(marked, SOON).toEqual(['0', '0'])
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['1', '1'])

    // The third step is a rest yet, and is come to next.
    const songs = caller.of('song').length
    await page.getByRole('button', { name: /^fern, step 3: rest/i }).focus()
    for (const key of ['Enter', 'PageUp', '+']) await page.keyboard.press(key)
    const third = (): unknown => caller.of('show').at(-1)?.show.songs[0]?.patterns[0]?.rows[0]?.steps[2]
    await expect.poll(third, SOON).toEqual({ note: 73 })
    await expect.poll(() => caller.of('loaded').length, SOON).toBeGreaterThanOrEqual(2)
    // Nothing began anew: the rows stand where they stood.
    expect(await marked()).toEqual(['1', '1'])
    expect(caller.of('song').length).toBe(songs)
    const before = sounded('fern').length
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['2', '2'])
    await expect.poll(() => sounded('fern').slice(before), SOON).toContain(73)
    await expect.poll(() => litOf(caller), SOON).toEqual([])
    expect(sounded('fern').filter((key) => key !== undefined)).toEqual([60, 62, 73])

    // The row is taken away under the hand that plays it: dark at once, and the other goes on.
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['3', '3'])
    await page.getByRole('button', { name: 'Remove the row' }).click()
    await expect.poll(rows, SOON).toEqual([3])
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['0'])
    await expect.poll(() => litOf(caller), SOON).toEqual([])
    expect(sounded('moss').filter((key) => key !== undefined)).toEqual([48, 48])
  },
)
