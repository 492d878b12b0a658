import { describe, expect, test } from 'vitest'
import { midiKeyToHz } from '../../src/domain/pitch.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import type { GraphRun } from '../support/graph-run.ts'
import { type LitSpan, lightOf, litSpans, microsAt, SEEN_DARK } from '../support/lamp-box-light.ts'
import { edgesOf, levelAt, type PinEdge, pulsesOf } from '../support/pin-edges.ts'
import { TIMER_16MHZ } from '../support/rig-outputs.ts'
import { GLASSHOUSE_LAMPS, glasshouse, type RawShow } from '../support/shows.ts'
import { validShow } from '../support/valid-show.ts'

// What a flash guard comes to at the pins of the firmware, from their edges alone.

const SECOND = 1_000_000
const CLOCK = 16_000_000
const SLOTS = GLASSHOUSE_LAMPS.map((_, slot) => slot)
/** A frame of four lamps on the line, and the firmware's work on it. */
const WAY = 1_500

const hzOf = (period: number): number => CLOCK / period

function house(flash: RawShow, part: RawShow) {
  const lead = { id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS], duty: { base: 0.25 }, ...part }
  return validShow(
    glasshouse({
      players: [
        { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
        { id: 'pads', kind: 'pads', input: { port: 'Pads' }, gateMs: 40 },
      ],
      songs: [{ id: 'tide', title: 'Tide table', tempo: 120, parts: [lead] }],
      guards: { flash },
    }),
  )
}

describe('fold: nothing flashes slower than is seen as steady, and pitches move by whole octaves', () => {
  const end = 2 * SECOND
  const held = (key: number) => (run: GraphRun) => run.graph.play('keys', Uint8Array.of(0x90, key, 100), 0)
  const cases = [
    // Key 16 is 20.6 Hz (440 x 2^((16 - 69) / 12)).
    { what: 'a low note', part: { strategy: { kind: 'unison' } }, key: 16, asked: midiKeyToHz(16) },
    // Five flashes to each of two beats a second.
    { what: 'a pulse', part: { strategy: { kind: 'unison' }, pulse: { ratio: '5:1' } }, key: 60, asked: 10 },
  ]

  test.each(cases)('$what of $asked Hz', ({ part, key, asked }) => {
    const folded = lightOf(house({ action: 'fold' }, part), end, held(key))
    const octaves = Math.ceil(Math.log2(60 / asked))
    const wanted = asked * 2 ** octaves
    const made = quantiseToTimer(wanted, TIMER_16MHZ)
    for (const slot of SLOTS) {
      const pulses = pulsesOf(folded.edges, slot)
      expect(pulses.length).toBeGreaterThan((end / SECOND) * wanted - 2)
      pulses.forEach(({ period }, place) => {
        expect(hzOf(period)).toBeGreaterThan(60)
        // A period is whole ticks of the prescaler, so half of one off at the most; the first, begun from dark, 20 cycles besides (PROTOCOL.md).
        const off = Math.abs(period - CLOCK / wanted)
        expect(off).toBeLessThanOrEqual((made?.drive.prescaler ?? NaN) / 2 + (place === 0 ? 20 : 0) + 1e-3)
      })
    }
    const [first] = pulsesOf(folded.edges, 0)
    console.log(`${asked.toFixed(2)} Hz folded: ${hzOf(first?.period ?? NaN).toFixed(4)} Hz at the pins`)

    const warned = lightOf(house({ action: 'warn' }, part), end, held(key))
    for (const slot of SLOTS) {
      const pulses = pulsesOf(warned.edges, slot)
      const mean = pulses.reduce((sum, { period }) => sum + period, 0) / pulses.length
      expect(Math.abs(hzOf(mean) / asked - 1)).toBeLessThan(2e-3)
    }
  })
})

/** A key struck and let go ten times a second. */
const GATED = { every: 100_000, on: 50_000, notes: 20, key: 69 }

function gated({ graph }: GraphRun, notes = GATED.notes): void {
  for (let note = 0; note < notes; note++) {
    graph.play('keys', Uint8Array.of(0x90, GATED.key, 100), note * GATED.every)
    graph.play('keys', Uint8Array.of(0x80, GATED.key, 0), note * GATED.every + GATED.on)
  }
}

describe('glow: between notes the lamps stay lit above hearing, as bright as they were', () => {
  const part = { strategy: { kind: 'unison' } }
  const end = 3.5 * SECOND
  const lastOff = (GATED.notes - 1) * GATED.every + GATED.on

  test('a gated unison over four lamps', () => {
    const { edges } = lightOf(house({ action: 'glow', seconds: 1 }, part), end, gated)
    const ticks = Math.round(CLOCK / 25_000)
    for (const slot of SLOTS) {
      const [span, ...others] = litSpans(edges, slot)
      expect(others).toEqual([])
      expect(span?.from).toBeLessThan(2 * WAY)
      expect(Math.abs((span?.to ?? NaN) - lastOff - SECOND)).toBeLessThan(WAY)
      expect(levelAt(edges, slot, Infinity)).toBe(0)
      const cycles = (micros: number): number => Math.round(micros * 16) + 100_000
      for (let note = 0; note < GATED.notes; note++) {
        const off = note * GATED.every + GATED.on
        // Once the note's last period is over, until the next is struck.
        const between = pulsesOf(edges, slot, cycles(off + 5_000), cycles(off + GATED.on))
        expect(between.length).toBeGreaterThan(1_000)
        expect(between.filter(({ period }) => hzOf(period) < 20_000)).toEqual([])
        const lit = between.reduce((sum, { on, period }) => sum + on / period, 0) / between.length
        expect(Math.abs(lit - 0.25)).toBeLessThanOrEqual(0.5 / ticks + 1e-9)
        const during = pulsesOf(edges, slot, cycles(off - GATED.on + 5_000), cycles(off))
        expect(during.length).toBeGreaterThan(15)
        for (const { period } of during) expect(Math.abs(hzOf(period) - 440)).toBeLessThan(0.01)
      }
    }
    console.log(
      `glow: ${hzOf(pulsesOf(edges, 0, 100_000 + 60_000 * 16)[5]?.period ?? NaN)} Hz between notes, ` +
        `longest dark ${(longestDark(edges) / 1000).toFixed(3)} ms`,
    )
    expect(longestDark(edges)).toBeLessThan(SEEN_DARK)
  })

  test('under warn the same is ten dark gaps a second', () => {
    const { edges } = lightOf(house({ action: 'warn' }, part), end, gated)
    for (const slot of SLOTS) expect(litSpans(edges, slot)).toHaveLength(GATED.notes)
  })
})

/** From a pin's first rise to its last fall, of all pins, in microseconds. */
function longestDark(edges: readonly PinEdge[]): number {
  return Math.max(
    ...SLOTS.map((slot) => {
      const own = edgesOf(edges, slot)
      const gaps = own.map(({ level, cycle }, place) =>
        level === 1 && place > 0 ? microsAt(cycle) - microsAt(own[place - 1]?.cycle ?? 0) : 0,
      )
      return Math.max(...gaps)
    }),
  )
}

/**
 * When the field changes, all pins taken as one light: pins that light one after another are one change until one goes dark, and so the other
 * way round.
 */
function fieldChanges(spans: readonly LitSpan[]): { at: number; isUp: boolean }[] {
  const all = spans.flatMap(({ from, to }) => [
    { at: from, isUp: true },
    { at: to, isUp: false },
  ])
  const changes: { at: number; isUp: boolean }[] = []
  for (const one of all.toSorted((a, b) => a.at - b.at))
    if (changes.at(-1)?.isUp !== one.isUp) changes.push(one)
  return changes
}

/** The most changes in any time so long. */
function most(changes: readonly { at: number }[], window: number): number {
  return Math.max(
    ...changes.map(({ at }) => changes.filter((one) => one.at <= at && at - one.at < window).length),
  )
}

describe('limit: the field changes no more often than is said, and what is tied goes dark in the end', () => {
  const CHANGES = 6
  const pads = { player: 'pads', strategy: { kind: 'travel', path: 'forward' } }
  const cases = [
    {
      what: 'a gated unison',
      part: { strategy: { kind: 'unison' } },
      play: (run: GraphRun) => gated(run, 30),
    },
    {
      what: 'a roll on pads, over the lamps',
      part: pads,
      play: ({ graph }: GraphRun) => {
        for (let hit = 0; hit < 50; hit++) graph.play('pads', Uint8Array.of(0x90, 60, 100), hit * 60_000)
      },
    },
  ]

  test.each(cases)('$what', ({ part, play }) => {
    const end = 5.5 * SECOND
    const limited = lightOf(house({ action: 'limit', changes: CHANGES }, part), end, play)
    const warned = lightOf(house({ action: 'warn' }, part), end, play)
    const changesOf = (edges: readonly PinEdge[]) =>
      fieldChanges(SLOTS.flatMap((slot) => litSpans(edges, slot)))
    const changes = changesOf(limited.edges)
    const inASecond = most(changes, SECOND)
    const without = most(changesOf(warned.edges), SECOND)
    console.log(
      `limit: ${inASecond} changes in a second at the most, under warn ${without}; ${limited.run.of('tied').length} ties`,
    )
    expect(inASecond).toBeLessThanOrEqual(CHANGES)
    expect(without).toBeGreaterThan(2 * CHANGES)
    // It does play, and ties.
    expect(changes.length).toBeGreaterThan(CHANGES)
    expect(limited.run.of('tied').length).toBeGreaterThan(5)
    for (const slot of SLOTS) {
      expect(edgesOf(limited.edges, slot).length).toBeGreaterThan(0)
      expect(levelAt(limited.edges, slot, Infinity)).toBe(0)
      // The last note ends at 3 s: no tie is longer than a second.
      expect(litSpans(limited.edges, slot).at(-1)?.to).toBeLessThan(4.1 * SECOND)
    }
  })
})
