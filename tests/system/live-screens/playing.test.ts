import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { connected } from '../../support/jack-midi.ts'
import { off, on } from '../../support/live-stage.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { glasshouse } from '../../support/shows.ts'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'

const house = liveHouse()

/** The small show on lamps in memory, a real keyboard's port, and a browser on the Stage. */
async function onStage() {
  const keys = house.instrument('Keybed')
  const screen = await house.open(glasshouse(), ['keys'])
  return { keys, screen, caller: screen.caller, page: screen.page }
}

test(
  'a chord lights its lamps, each with player, note and rate; letting go and F8 darken',
  REAL_PROCESSES,
  async () => {
    const { keys, screen, page } = await onStage()
    for (const key of [57, 61, 64]) keys.sendMessage(on(key))
    await expect
      .poll(async () => (await screen.lit()).map(({ lamp }) => lamp), SOON)
      .toEqual(['fern', 'moss', 'reed'])
    const lit = await screen.lit()
    // Notes of the keys named as 60 = C4 (common practice, no source); rates by 440 x 2^((n-69)/12).
    const told = [57, 61, 64].map((key, place) => [['A3', 'C#4', 'E4'][place], midiKeyToHz(key).toFixed(2)])
    expect(lit.map(({ words }) => [words[2], words[3]])).toEqual(told)
    for (const { words } of lit) expect(words[0]).toMatch(/keys/)
    for (const { words } of lit) expect(Math.abs(Number(words[4]?.replace('\u2212', '-')))).toBeLessThan(0.2)

    keys.sendMessage(off(61))
    await expect
      .poll(async () => (await screen.lit()).map(({ lamp }) => lamp), SOON)
      .toEqual(['fern', 'reed'])
    await page.keyboard.press('F8')
    await expect.poll(async () => screen.lit(), SOON).toEqual([])
    keys.sendMessage(off(57))
    keys.sendMessage(off(64))
    keys.sendMessage(on(60))
    await expect.poll(async () => (await screen.lit()).map(({ lamp }) => lamp), SOON).toEqual(['fern'])
    keys.sendMessage(off(60))
    await expect.poll(async () => screen.lit(), SOON).toEqual([])
  },
)

test(
  'another strategy under a held chord: no lamp hangs, the next notes go the new way; undo and redo',
  REAL_PROCESSES,
  async () => {
    const { keys, screen, page, caller } = await onStage()
    const lamps = (): string[] => litOf(caller).map(({ lamp }) => lamp)
    const kind = (): string | undefined => caller.of('show').at(-1)?.show.songs[0]?.parts[0]?.strategy.kind
    for (const key of [57, 61]) keys.sendMessage(on(key))
    await expect.poll(lamps, SOON).toEqual(['fern', 'moss'])

    await screen.room('Sheet')
    await page.getByRole('link', { name: /^lead/ }).click()
    await page.getByRole('combobox', { name: 'Strategy' }).selectOption('unison')
    await expect.poll(kind, SOON).toBe('unison')
    await expect.poll(lamps, SOON).toEqual([])
    keys.sendMessage(off(57))
    keys.sendMessage(off(61))
    keys.sendMessage(on(64))
    await expect.poll(lamps, SOON).toEqual(['fern', 'moss', 'reed', 'sedge'])

    await page.getByRole('button', { name: /^Undo Strategy/ }).click()
    await expect.poll(kind, SOON).toBe('lowest-free')
    await expect.poll(lamps, SOON).toEqual([])
    keys.sendMessage(off(64))
    keys.sendMessage(on(65))
    await expect.poll(lamps, SOON).toEqual(['fern'])
    keys.sendMessage(off(65))
    await expect.poll(lamps, SOON).toEqual([])
    await page.getByRole('button', { name: /^Redo Strategy/ }).click()
    await expect.poll(kind, SOON).toBe('unison')
  },
)

test(
  'a player learns its port by playing on an instrument that no player has, and then plays on it',
  REAL_PROCESSES,
  async () => {
    const { screen, page, caller } = await onStage()
    const spare = house.instrument('Spare keys')
    await screen.room('Rig')
    await page
      .getByRole('button', { name: /^Learn .* by playing/ })
      .first()
      .click()
    await page.getByText(/Play a note on the instrument/).waitFor()
    const take = page.getByRole('button', { name: 'Take it' })
    // The new port is looked for twice a second.
    for (let tries = 0; tries < 40 && !(await take.isVisible()); tries++) {
      spare.sendMessage(Buffer.of(0x92, 60, 90))
      spare.sendMessage(Buffer.of(0x82, 60, 0))
      await page.waitForTimeout(300)
    }
    await take.click()
    const input = (): unknown => caller.of('show').at(-1)?.show.players[0]?.input
    await expect.poll(() => JSON.stringify(input()), SOON).toContain('Spare keys')
    expect((input() as { channels: number[] }).channels).toContain(3)
    const state = (): string | undefined =>
      caller.of('port').findLast(({ port }) => port.id === 'keys' && port.name.includes('Spare keys'))?.port
        .state
    await expect.poll(state, SOON).toBe('open')
    await connected()
    await screen.room('Stage')
    spare.sendMessage(Buffer.of(0x92, 62, 90))
    await expect.poll(async () => (await screen.lit()).map(({ words }) => words[2]), SOON).toEqual(['D4'])
    spare.sendMessage(Buffer.of(0x82, 62, 0))
    await expect.poll(async () => screen.lit(), SOON).toEqual([])
  },
)
