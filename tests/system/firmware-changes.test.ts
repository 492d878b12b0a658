import { expect, test } from 'vitest'
import { dutyToTicks } from '../../src/tuning/duty-ticks.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { AWAKE, lamp, runLampBox, type ScriptStep, setFrame } from '../support/lamp-box-script.ts'
import { edgesOf, levelAt, pulsesOf } from '../support/pin-edges.ts'
import { TIMER_16MHZ } from '../support/rig-outputs.ts'

/** Period and on-time in cycles. */
function shape(hz: number, duty: number) {
  const drive = quantiseToTimer(hz, TIMER_16MHZ)?.drive
  if (!drive) throw new Error(`the timer cannot make ${hz} Hz`)
  return {
    prescaler: drive.prescaler,
    period: drive.prescaler * (drive.top + 1),
    on: drive.prescaler * dutyToTicks(duty, drive.top),
  }
}

test('same prescaler: whole old periods, then whole new ones, wherever in the period the change comes', () => {
  const [a, b] = [shape(2000, 0.3), shape(1234.5, 0.6)]
  const steps: ScriptStep[] = [{ at: AWAKE, send: setFrame(0, [lamp(0, 2000, 0.3)]) }]
  // 400 changes, each at another place of the running period: steps of 37 cycles past a multiple of both.
  for (let count = 1; count <= 400; count++) {
    const next = count % 2 ? lamp(0, 1234.5, 0.6) : lamp(0, 2000, 0.3)
    steps.push({ at: AWAKE + count * 40_037, send: setFrame(count % 256, [next]) })
  }
  const { edges } = runLampBox([...steps, { at: AWAKE + 401 * 40_037, end: true }])
  const pulses = pulsesOf(edges, 0).slice(1)
  const kinds = new Set(pulses.map(({ on, period }) => `${on}/${period}`))
  expect(kinds).toEqual(new Set([`${a.on}/${a.period}`, `${b.on}/${b.period}`]))
  const turns = pulses.filter(({ period }, at) => period !== (pulses[at - 1]?.period ?? period)).length
  expect(turns).toBeGreaterThanOrEqual(399)
})

test('two changes within one period: the last one counts, and no mixture is heard', () => {
  const [a, b, c] = [shape(250, 0.5), shape(300, 0.1), shape(700, 0.9)]
  const steps: ScriptStep[] = [{ at: AWAKE, send: setFrame(0, [lamp(0, 250, 0.5)]) }]
  for (let count = 0; count < 100; count++) {
    const at = 200_000 + count * 400_123
    steps.push(
      { at, send: setFrame(1, [lamp(0, 300, 0.1)]) },
      { at: at + 12_000, send: setFrame(2, [lamp(0, 700, 0.9)]) },
      { at: at + 200_000, send: setFrame(3, [lamp(0, 250, 0.5)]) },
    )
  }
  const { edges } = runLampBox([...steps, { at: 41_000_000, end: true }])
  const kinds = new Set(
    pulsesOf(edges, 0)
      .slice(1)
      .map(({ on, period }) => `${on}/${period}`),
  )
  for (const { on, period } of [a, c]) expect(kinds).toContain(`${on}/${period}`)
  for (const kind of kinds) expect([a, b, c].map(({ on, period }) => `${on}/${period}`)).toContain(kind)
})

test('another prescaler: the old period is finished, the first new on-time is right to a new tick and 20 cycles', () => {
  const [a, b] = [shape(440, 0.3), shape(41.2034, 0.6)]
  const steps: ScriptStep[] = [{ at: AWAKE, send: setFrame(0, [lamp(0, 440, 0.3)]) }]
  for (let count = 1; count <= 60; count++) {
    const next = count % 2 ? lamp(0, 41.2034, 0.6) : lamp(0, 440, 0.3)
    steps.push({ at: AWAKE + count * 1_201_007, send: setFrame(count, [next]) })
  }
  const { edges } = runLampBox([...steps, { at: AWAKE + 61 * 1_201_007, end: true }])
  const pulses = pulsesOf(edges, 0).slice(1)
  expect(pulses.some(({ period }) => period === a.period)).toBe(true)
  expect(pulses.some(({ period }) => period === b.period)).toBe(true)
  let moves = 0
  for (const { on, period } of pulses) {
    const kind = Math.abs(period - a.period) < 100 ? a : b
    const slack = on === kind.on && period === kind.period ? 0 : kind.prescaler + 20
    if (slack > 0) moves++
    expect(Math.abs(on - kind.on)).toBeLessThanOrEqual(slack)
    expect(Math.abs(period - kind.period)).toBeLessThanOrEqual(slack)
  }
  expect(moves).toBeLessThanOrEqual(60)
})

test('out of a slow flash the change comes at once', () => {
  const { edges, received } = runLampBox([
    { at: AWAKE, send: setFrame(0, [lamp(0, 2, 0.5)]) },
    { at: AWAKE + 1_000_000, send: setFrame(1, [lamp(0, 440, 0.5)]) },
    { at: AWAKE + 1_500_000, end: true },
  ])
  const last = received.at(-1)?.cycle ?? 0
  const first = edgesOf(edges, 0, last)[0]
  expect((first?.cycle ?? Infinity) - last).toBeLessThan(16_000 + shape(440, 0.5).period)
})

test('from dark the pin rises within 0.5 ms of the last byte, with a first on-time that is right to 20 cycles', () => {
  const { edges, received } = runLampBox([
    { at: AWAKE, send: setFrame(0, [lamp(2, 1000, 0.25)]) },
    { at: AWAKE + 200_000, end: true },
  ])
  const [rise, fall] = edgesOf(edges, 2)
  const reaction = (rise?.cycle ?? Infinity) - (received.at(-1)?.cycle ?? 0)
  console.log(
    `one lamp from dark: ${reaction} cycles (${(reaction / 16).toFixed(0)} us) from its last byte to the pin`,
  )
  expect(reaction).toBeLessThan(8000)
  expect(Math.abs((fall?.cycle ?? 0) - (rise?.cycle ?? 0) - shape(1000, 0.25).on)).toBeLessThan(20)
})

test('four lamps at once: the last pin within 1 ms of the last byte', () => {
  const { edges, received } = runLampBox([
    {
      at: AWAKE,
      send: setFrame(
        0,
        [41, 100, 440, 2000].map((hz, slot) => lamp(slot, hz, 0.3)),
      ),
    },
    { at: AWAKE + 300_000, end: true },
  ])
  const rises = [0, 1, 2, 3].map((slot) => edgesOf(edges, slot)[0]?.cycle ?? Infinity)
  const last = received.at(-1)?.cycle ?? 0
  console.log(
    `four lamps: ${rises.map((rise) => rise - last).join(', ')} cycles from the last byte to each pin`,
  )
  expect(Math.max(...rises) - last).toBeLessThan(16_000)
  expect(Math.max(...rises) - Math.min(...rises)).toBeLessThan(1600)
})

for (const [name, frame] of [
  ['rate 0', setFrame(1, [lamp(0, 0, 0), lamp(1, 0, 0.5)])],
  ['a dark frame', { type: 'dark', sequence: 1 }],
] as const) {
  test(`dark by ${name}: the pin low at once, and not an edge more`, () => {
    const at = AWAKE + 300_000
    const { edges, received } = runLampBox([
      { at: AWAKE, send: setFrame(0, [lamp(0, 440, 0.9), lamp(1, 30, 0.9)]) },
      { at, send: frame },
      { at: at + 4_000_000, end: true },
    ])
    const told = received.at(-1)?.cycle ?? 0
    for (const slot of [0, 1]) {
      expect(edgesOf(edges, slot, 0, at).length).toBeGreaterThan(0)
      expect(edgesOf(edges, slot, told + 8000)).toEqual([])
      expect(levelAt(edges, slot, told + 8000)).toBe(0)
    }
  })
}

test('dark, and lit again while a prescaler change was waiting: no ghost of the old change', () => {
  const { edges } = runLampBox([
    { at: AWAKE, send: setFrame(0, [lamp(0, 50, 0.5)]) },
    { at: AWAKE + 100_000, send: [setFrame(1, [lamp(0, 440, 0.5)]), { type: 'dark', sequence: 2 }] },
    { at: AWAKE + 150_000, send: setFrame(3, [lamp(0, 60, 0.5)]) },
    { at: AWAKE + 2_000_000, end: true },
  ])
  const { on, period } = shape(60, 0.5)
  const pulses = pulsesOf(edges, 0, AWAKE + 150_000).slice(1)
  expect(new Set(pulses.map((pulse) => `${pulse.on}/${pulse.period}`))).toEqual(new Set([`${on}/${period}`]))
})
