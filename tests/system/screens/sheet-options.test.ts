import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { strategyForms } from '../../../app/engine/host/strategy-forms.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

const LEAD = ['fern', 'moss', 'reed', 'sedge']

/** One thing done to an option, and what the host is asked for. `removed`: the option is left out. */
interface Deed {
  readonly option: string
  readonly how: (form: KeyboardForm, house: EditedHouse) => Promise<void>
  readonly asks: unknown
}
const removed = Symbol('removed')

/** A choice of a list: done and answered step by step, so the last answer is looked at. */
function chooses(option: string, name: string, text: string, asks: unknown = text): Deed {
  return { option, asks, how: async (form) => void (await form.choose(name, text)) }
}
function types(option: string, name: string, text: string, asks: unknown): Deed {
  return { option, asks, how: (form) => form.type(name, text) }
}
function pushes(option: string, name: string, asks: unknown, key: 'Space' | 'Enter' = 'Enter'): Deed {
  return { option, asks, how: (form) => form.push(name, key) }
}

const PRIORITY = [chooses('priority', 'Priority', 'high'), chooses('priority', 'Priority', 'last')]
const STEAL = [chooses('steal', 'Steal', 'lowest'), chooses('steal', 'Steal', 'none')]

/** Every option of every strategy, in every way that it can be said. */
const DEEDS: Readonly<Record<string, readonly Deed[]>> = {
  unison: [
    ...PRIORITY,
    pushes('detuneCents', 'Add one for Fern', [0]),
    pushes('detuneCents', 'Add one for Moss', [0, 0]),
    types('detuneCents', 'Moss', '-12.5', [0, -12.5]),
    pushes('detuneCents', 'Remove Detune, Fern', [-12.5]),
    types('spreadCents', 'Spread', '14', 14),
    pushes('retrigger', 'Retrigger', true, 'Space'),
  ],
  'lowest-free': [...STEAL, pushes('resume', 'Resume', false, 'Space')],
  travel: [
    chooses('path', 'Path', 'pendulum'),
    chooses('path', 'Path', 'lamps in an order of its own', LEAD),
    pushes('path', 'Moss earlier', ['moss', 'fern', 'reed', 'sedge']),
    pushes('path', 'Reed off the list', ['moss', 'fern', 'sedge']),
    pushes('path', 'Add Fern', ['moss', 'fern', 'sedge', 'fern']),
    chooses('move', 'Move', 'every: a note value', { every: '1/8' }),
    types('move', 'Every', '3/16', { every: '3/16' }),
    chooses('move', 'Move', 'every: ms', { everyMs: 250 }),
    types('move', 'Every', '90', { everyMs: 90 }),
    chooses('move', 'Move', 'note'),
    types('width', 'Width', '3', 3),
    types('overlapMs', 'Overlap', '12.5', 12.5),
    ...PRIORITY,
  ],
  rotate: [...STEAL, pushes('resume', 'Resume', true, 'Space')],
  nearest: [...STEAL, pushes('resume', 'Resume', true, 'Space')],
  chime: [types('notes', 'Moss', 'F#3', [60, 54, 62, 63]), types('notes', 'Fern', '36', [36, 54, 62, 63])],
  partials: [
    pushes('ratios', 'Give ratios', [1, 2, 3, 4], 'Space'),
    types('ratios', 'Reed', '5.5', [1, 2, 5.5, 4]),
    pushes('ratios', 'Remove Ratios, Sedge', [1, 2, 5.5]),
    pushes('ratios', 'Give ratios', removed, 'Space'),
    ...PRIORITY,
  ],
  canon: [
    types('delay', 'Delay', '1/12', '1/12'),
    pushes('delayMs', 'Give delay in ms', 250, 'Space'),
    pushes('delayMs', 'Give delay in ms', removed, 'Space'),
    ...PRIORITY,
  ],
  steps: [
    pushes('pattern', 'Give pattern', 'one', 'Space'),
    chooses('pattern', 'Pattern', 'The other', 'two'),
    pushes('pattern', 'Give pattern', removed, 'Space'),
    chooses('starts', 'Starts', 'song'),
  ],
}

test('every option of every strategy is done below', () => {
  for (const { kind, options } of strategyForms(strategies)) {
    const names = Object.keys((options['properties'] ?? {}) as object)
    expect([...new Set((DEEDS[kind] ?? []).map(({ option }) => option))].sort()).toEqual(names.sort())
  }
})

const PATTERNS = ['one', 'two'].map((id) => ({
  id,
  name: id === 'two' ? 'The other' : 'One',
  rows: [{ lamp: 'fern', steps: [60] }],
}))

/** The demo show, with the lead by another strategy. */
function showWith(kind: string) {
  const show = demoShow()
  const [dew, ...rest] = show.songs
  const [lead, ...others] = dew?.parts ?? []
  if (!dew || !lead) throw new Error('no lead')
  const strategy = kind === 'chime' ? { kind, notes: [60, 61, 62, 63] } : { kind }
  const parsed = parseShow(
    JSON.stringify({
      ...show,
      songs: [{ ...dew, parts: [{ ...lead, strategy }, ...others], patterns: PATTERNS }, ...rest],
    }),
    strategies,
  )
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults))
  return parsed.show
}

describe.each(Object.keys(DEEDS))('the options of %s, by keyboard alone', (kind) => {
  test('ask for what was meant, and are taken', async () => {
    const house = await EditedHouse.open(browser, { hash: '#sheet/dew/lead', show: showWith(kind) })
    const form = new KeyboardForm(house)
    const optionNow = (option: string) => house.show.songs[0]?.parts[0]?.strategy[option]
    try {
      await form.tabTo('Strategy')
      for (const { option, how, asks } of DEEDS[kind] ?? []) {
        const { length } = (await house.screen.asked()).filter(({ type }) => type === 'edit')
        await how(form, house)
        // Choices have been answered on the way; all else waits.
        if ((await house.screen.asked()).filter(({ type }) => type === 'edit').length === length)
          await house.asked()
        for (const _ of await house.waiting()) await house.next()
        const [edit] = (await house.screen.asked()).filter((one) => one.type === 'edit').slice(-1)
        const path = ['songs', 0, 'parts', 0, 'strategy', option]
        const change = asks === removed ? { do: 'remove', path } : { do: 'set', path, value: asks }
        expect(edit).toMatchObject({ changes: [change] })
        expect(optionNow(option)).toEqual(asks === removed ? undefined : asks)
      }
    } finally {
      await house.close()
    }
  })
})

test('a strategy is changed to each other by keyboard, with what it has for usual', async () => {
  const house = await EditedHouse.open(browser, { hash: '#sheet/dew/lead' })
  const form = new KeyboardForm(house)
  for (const { kind } of strategies) {
    if (house.show.songs[0]?.parts[0]?.strategy.kind === kind) continue
    const edit = await form.choose('Strategy', kind)
    expect(edit.label).toBe('Strategy of lead in Dew on the panes')
    expect(house.show.songs[0]?.parts[0]?.strategy.kind).toBe(kind)
  }
  await house.close()
})

test('an option that no field fits is written in JSON', async () => {
  const odd = {
    kind: 'odd',
    about: 'Not in this program.',
    options: {
      type: 'object',
      properties: { weights: { type: 'object', additionalProperties: { type: 'number' }, default: {} } },
      additionalProperties: false,
    },
  }
  const show = demoShow()
  const [dew, ...rest] = show.songs
  const [lead, ...others] = dew?.parts ?? []
  if (!dew || !lead) throw new Error('no lead')
  const house = await EditedHouse.open(browser, {
    hash: '#sheet/dew/lead',
    show: {
      ...show,
      songs: [
        { ...dew, parts: [{ ...lead, strategy: { kind: 'odd', weights: { fern: 1 } } }, ...others] },
        ...rest,
      ],
    },
    strategies: [odd],
  })
  const field = house.page.getByRole('textbox', { name: 'Weights' })
  await field.fill('{ "fern": ')
  await house.page.keyboard.press('Tab')
  await house.page.getByText('This is not JSON').waitFor()
  expect(await house.waiting()).toEqual([])
  await field.fill('{ "fern": 2, "moss": 0.5 }')
  await house.page.keyboard.press('Tab')
  expect((await house.asked()).changes).toEqual([
    { do: 'set', path: ['songs', 0, 'parts', 0, 'strategy', 'weights'], value: { fern: 2, moss: 0.5 } },
  ])
  await house.close()
})
