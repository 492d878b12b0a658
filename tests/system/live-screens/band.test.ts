import { expect, test } from 'vitest'
import type { Caller } from '../../support/caller.ts'
import { off, on } from '../../support/live-stage.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { glasshouse } from '../../support/shows.ts'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'

const house = liveHouse()

/** Keys on all four lamps, a bass that claims two of them while it plays and a while longer, and pads that light one. */
const TRIO = glasshouse({
  players: [
    { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
    { id: 'bass', kind: 'strings', input: { port: 'Bass', channels: [1, 2, 3, 4] } },
    { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] }, maskMs: 0 },
  ],
  songs: [
    {
      id: 'tide',
      title: 'Tide table',
      parts: [
        {
          id: 'lead',
          player: 'keys',
          lamps: ['fern', 'moss', 'reed', 'sedge'],
          strategy: { kind: 'lowest-free' },
        },
        {
          id: 'low',
          player: 'bass',
          lamps: ['reed', 'sedge'],
          strategy: { kind: 'unison' },
          claim: { when: 'playing', releaseMs: 600 },
        },
        { id: 'tap', player: 'pads', lamps: ['fern'], strategy: { kind: 'unison' } },
      ],
    },
  ],
} as never)

async function trio() {
  const [keys, bass, pads] = ['Keybed', 'Bass', 'Pads'].map((name) => house.instrument(name))
  if (!keys || !bass || !pads) throw new Error('no instruments')
  return { keys, bass, pads, ...(await house.open(TRIO, ['keys', 'bass', 'pads'])) }
}

/** Each lit lamp as `lamp part`, of what was told last. */
function lit(caller: Caller): string[] {
  return litOf(caller).map(({ lamp, part }) => `${lamp} ${part}`)
}

test(
  'the bass claims two lamps of a chord: seen on the Stage; the chord comes back when the claim has ended, and every note ends dark',
  REAL_PROCESSES,
  async () => {
    const { keys, bass, lit: told, caller } = await trio()
    for (const key of [57, 61, 64, 69]) keys.sendMessage(on(key))
    const chord = ['fern lead', 'moss lead', 'reed lead', 'sedge lead']
    await expect.poll(() => lit(caller), SOON).toEqual(chord)

    bass.sendMessage(Buffer.of(0x91, 33, 100))
    await expect.poll(() => lit(caller), SOON).toEqual(['fern lead', 'moss lead', 'reed low', 'sedge low'])
    // On the Stage as a person sees it: whose they are, by which right, and which note.
    await expect
      .poll(async () => (await told()).slice(2).map(({ lamp, words }) => [lamp, words[1], words[2]]), SOON)
      .toEqual([
        ['reed', 'low, by its claim', 'A1'],
        ['sedge', 'low, by its claim', 'A1'],
      ])
    // Whoever loses a lamp loses no note-off: this one does not come back.
    keys.sendMessage(off(64))
    bass.sendMessage(Buffer.of(0x81, 33, 64))
    // Kept dark until the claim is given back.
    await expect
      .poll(
        async () => (await told()).map(({ lamp, words }) => `${lamp}: ${words.slice(0, 3).join(' ')}`),
        SOON,
      )
      .toContainEqual(expect.stringMatching(/^reed: .*kept by its claim/))
    await expect.poll(() => lit(caller), SOON).toEqual(['fern lead', 'moss lead', 'reed lead'])
    expect(caller.of('lamps').at(-1)?.lamps[2]?.key).toBe(69)
    expect(
      caller
        .of('lamps')
        .at(-1)
        ?.lamps.some(({ claimedBy }) => claimedBy !== undefined),
    ).toBe(false)
    for (const key of [57, 61, 69]) keys.sendMessage(off(key))
    await expect.poll(() => lit(caller), SOON).toEqual([])
  },
)

test(
  'a drummer sets pads up by hitting them: a bounce that is seen, the time it takes, and a name',
  REAL_PROCESSES,
  async () => {
    const { pads, room, caller, page } = await trio()
    const hit = (key: number, velocity: number): void => {
      pads.sendMessage(Buffer.of(0x99, key, velocity))
      pads.sendMessage(Buffer.of(0x89, key, 64))
    }
    const drops = () =>
      caller
        .of('players')
        .at(-1)
        ?.players.find(({ player }) => player === 'pads')?.drops
    await room('Rig')
    const card = page.getByRole('region', { name: 'Player pads' })
    const picture = card.locator('lan-hit-picture')
    const taken = picture.locator('dd').first()
    hit(38, 100)
    await picture.getByText('D2 (38): struck 100').first().waitFor()
    expect(await taken.textContent()).toBe('1')

    const mask = card.getByRole('spinbutton', { name: /^Bounce time/ }).first()
    await mask.fill('1000')
    await mask.press('Enter')
    await expect
      .poll(() => JSON.stringify(caller.of('show').at(-1)?.show.players[2]), SOON)
      .toContain('"maskMs":1000')
    // The players' ports are opened anew: struck until it is heard.
    for (let tries = 0; tries < 40 && !drops()?.mask; tries++) {
      hit(38, 100)
      hit(38, 60)
      await page.waitForTimeout(300)
    }
    expect(drops()?.mask).toBeGreaterThan(0)
    await picture
      .getByText(/struck 60, dropped: bounce/)
      .first()
      .waitFor()

    await card.getByRole('button', { name: 'Name a pad of pads by hitting it' }).click()
    await card.getByText(/Hit the pad of pads/).waitFor()
    const take = card.getByRole('button', { name: 'Take it' })
    hit(38, 90)
    await take.click()
    await card.getByRole('textbox', { name: 'Name of pad 38' }).fill('Drum')
    await page.keyboard.press('Enter')
    await expect
      .poll(() => JSON.stringify(caller.of('show').at(-1)?.show.players[2]), SOON)
      .toContain('"key":38,"name":"Drum"')
    hit(38, 80)
    await picture
      .getByText(/Drum: struck 80/)
      .first()
      .waitFor()
    await expect.poll(() => lit(caller), SOON).toEqual([])
  },
)
