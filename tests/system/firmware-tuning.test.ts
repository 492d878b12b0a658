import { expect, test } from 'vitest'
import { pitchRows } from '../../src/offline/pitch-rows.ts'
import { GraphRun } from '../support/graph-run.ts'
import type { ScriptStep } from '../support/lamp-box-script.ts'
import { AWAKE, runLampBox } from '../support/lamp-box-script.ts'
import { CYCLES_A_MICRO, edgesOf, pulsesOf, rateOf } from '../support/pin-edges.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../support/shows.ts'
import { validShow } from '../support/valid-show.ts'

const LOWEST = 41
/** Three octaves of nineteen steps, both ends. */
const KEYS = Array.from({ length: 3 * 19 + 1 }, (_, step) => LOWEST + step)
const LAMPS = GLASSHOUSE_LAMPS.length
/** How long four notes sound, and how long into them is measured, so that a period that went on from before is over. */
const HELD = 90_000
const SETTLED = 12_000
const START = 20_000

const show = validShow(
  glasshouse({
    tunings: [{ id: 'nineteen', kind: 'equal', steps: 19, periodCents: 1200, refNote: 60, refHz: 220 }],
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        tuning: 'nineteen',
        parts: [
          { id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind: 'lowest-free' } },
        ],
      },
    ],
  }),
)

const cents = (hz: number, other: number) => 1200 * Math.log2(hz / other)
const cycle = (micros: number) => AWAKE + micros * CYCLES_A_MICRO

test.each([
  ['timers as the data sheet has them', []],
  ["simavr's own timers", ['--stock-timers']],
])(
  'three octaves of nineteen equal steps sound at the pins of the firmware as was told: %s',
  (_, options) => {
    const run = new GraphRun(show)
    const { graph } = run
    KEYS.forEach((key, place) => {
      const at = START + Math.floor(place / LAMPS) * HELD
      if (place % LAMPS === 0)
        for (const off of KEYS.slice(Math.max(0, place - LAMPS), place))
          graph.play('keys', Uint8Array.of(0x80, off, 0), at)
      graph.play('keys', Uint8Array.of(0x90, key, 100), at)
    })
    const end = START + Math.ceil(KEYS.length / LAMPS) * HELD
    graph.advance(end)
    const frames = run.of('bytes').map(({ at, bytes }): ScriptStep => ({ at: cycle(at), send: bytes }))
    graph.dispose()
    const { edges, resets } = runLampBox([...frames, { at: cycle(end), end: true }], ...options)
    expect(resets).toEqual([])

    const rows = pitchRows(show, 'tide', 'lead') ?? []
    const told = KEYS.map((key, place) => {
      const slot = place % LAMPS
      const from = cycle(START + Math.floor(place / LAMPS) * HELD + SETTLED)
      const until = from + (HELD - SETTLED) * CYCLES_A_MICRO
      const row = rows[slot]?.rows.find((one) => one.key === key)
      const predicted = row?.realHz ?? 0
      const measured = rateOf(edges, slot, from, until)
      // Several periods, and the pin is level with none of the next note's in it.
      expect(pulsesOf(edges, slot, from, until).length).toBeGreaterThanOrEqual(7)
      expect(edgesOf(edges, slot, from, until).length).toBeGreaterThan(14)
      // Equal steps by the formula, ref x 2^(n / 19).
      return { key, measured, predicted, wanted: 220 * 2 ** ((key - 60) / 19), promised: row?.cents ?? 9 }
    })
    const off = told.map((one) => Math.abs(cents(one.measured, one.predicted)))
    const fromWanted = told.map((one) => cents(one.predicted, one.wanted))
    const most = Math.max(...fromWanted.map(Math.abs))
    console.log(
      `${told.length} pitches, ${told[0]?.wanted.toFixed(2)} to ${told.at(-1)?.wanted.toFixed(2)} Hz: measured at most ${Math.max(...off).toExponential(1)} cents from what was told, which is at most ${most.toFixed(4)} cents from what the scale wants`,
    )
    expect(Math.max(...off)).toBeLessThan(0.2)
    told.forEach(({ promised }, place) => expect(promised).toBeCloseTo(fromWanted[place] ?? 9, 9))
    // Half a tick, of the timer (ATmega640/1280/2560 data sheet: 65,536 ticks at most) with no prescaler down to 244.14 Hz and by 8 below; a rate on the wire is right to 2^-17 Hz.
    told.forEach(({ wanted }, place) => {
      const tick = (wanted > 16e6 / 65536 ? 1 : 8) / 16e6
      expect(Math.abs(fromWanted[place] ?? 9)).toBeLessThan(
        1200 * Math.log2(1 + (tick / 2) * wanted + 2 ** -17 / wanted),
      )
    })
    // It is one scale and not one pitch: each key is a nineteenth of an octave above the last, 63.16 cents.
    for (const [place, { measured }] of told.slice(1).entries())
      expect(cents(measured, told[place]?.measured ?? 1)).toBeCloseTo(1200 / 19, 0)
  },
)
