import { expect, test } from 'vitest'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'
import { off, on } from '../../support/live-stage.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { glasshouse } from '../../support/shows.ts'

const house = liveHouse()

test(
  'what guards count is on the Stage, a lamp glows after its note, and off by the form is off at the engine and in the show',
  REAL_PROCESSES,
  async () => {
    const keys = house.instrument('Keybed')
    const guards = { flash: { action: 'glow', seconds: 600 } }
    const { page, caller, room, lit } = await house.open(glasshouse({ guards }), ['keys'])
    const stage = page.locator('lan-stage-guards')
    // 10 W at 12 V are 0.83 A (watts over volts, common practice, no source); 5 A x 0.8 may be drawn.
    await stage.getByText('bench 0.0 of 4.0 A').waitFor(SOON)
    keys.sendMessage(on(69))
    await stage.getByText('bench 0.8 of 4.0 A').waitFor(SOON)
    keys.sendMessage(off(69))
    await stage.getByText('Flash guard glows: kept lit 1 time').waitFor(SOON)
    await expect
      .poll(async () => (await lit()).map(({ words }) => words[2]), SOON)
      .toEqual(['glows, no note'])
    expect(litOf(caller)).toMatchObject([{ lamp: 'fern', glow: true, part: 'lead' }])

    await room('Rig')
    await page.getByRole('combobox', { name: 'Flash guard' }).selectOption('off')
    await page.getByRole('checkbox', { name: /I have read this/ }).check()
    await page.getByRole('button', { name: /^Off from / }).click()
    await room('Stage')
    await stage.getByText(/^Warning: Flash guard is off since \d{4}-\d\d-\d\d$/).waitFor(SOON)
    expect(caller.of('show').at(-1)?.show.guards.flash.action).toBe('off')
    await expect.poll(() => caller.of('guards').at(-1)?.flash.action, SOON).toBe('off')
    await expect.poll(() => litOf(caller), SOON).toEqual([])
    await page.getByRole('button', { name: /^Undo flash guard off/ }).click()
    await stage.getByText(/^Flash guard glows/).waitFor(SOON)
    expect(caller.of('show').at(-1)?.show.guards.flash).toMatchObject({ action: 'glow', seconds: 600 })
  },
)
