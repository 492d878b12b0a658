import { afterAll, beforeAll, expect, test } from 'vitest'
import { centsBetween, midiKeyToHz } from '../../src/domain/pitch.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { connected, startJackMidi } from '../support/jack-midi.ts'
import { instrument, isFlashing, lastCycle, off, on, onStage, Quiet } from '../support/live-stage.ts'
import { edgesOf, levelAt, onTimeOf, pulsesOf, rateOf } from '../support/pin-edges.ts'
import { TIMER_16MHZ } from '../support/rig-outputs.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const CYCLES_A_MS = 16_000
const FERN = 0
const SEDGE = 3
const ALL = [0, 1, 2, 3]

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi()
}, 120_000)
afterAll(() => jack?.stop())

test(
  'from a MIDI port to the pins: the rate is what the timer formula gives, the duty within a tick, and dark is no edge at all',
  REAL_PROCESSES,
  async () => {
    const { box, keys } = await onStage(jack)
    const quiet = new Quiet(box)
    for (const key of [28, 45, 60, 69, 84]) {
      const formula = quantiseToTimer(midiKeyToHz(key), TIMER_16MHZ)
      if (!formula || formula.drive.kind !== 'timer') throw new Error('no timer value')
      const since = lastCycle(box) + 1
      keys.sendMessage(on(key))
      await eventually(() => pulsesOf(box.pins(), FERN, since).length >= 12, 5_000)
      const cents = centsBetween(rateOf(box.pins(), FERN, since), formula.realHz)
      expect(Math.abs(cents)).toBeLessThan(0.2)
      // A tick is the prescaler's cycles (ATmega640/1280/2560 data sheet, fast PWM).
      const tick = formula.drive.prescaler
      const wanted = 0.25 * tick * (formula.drive.top + 1)
      const onTime = onTimeOf(box.pins(), FERN, since)
      expect(Math.abs(onTime - wanted)).toBeLessThanOrEqual(tick)
      console.log(
        `key ${key}: ${formula.realHz.toFixed(4)} Hz, measured ${cents.toFixed(5)} c off, on for ${onTime} of ${wanted} cycles`,
      )
      keys.sendMessage(off(key))
      await eventually(() => levelAt(box.pins(), FERN, Infinity) === 0 && quiet.is(FERN), 3_000)
    }
    const before = box.pins().length
    await new Promise((resolve) => setTimeout(resolve, 700))
    expect(box.pins().length).toBe(before)
  },
)

test(
  'an input that is gone takes its notes with it within 1.1 s, others play on, and it works again when it is back',
  REAL_PROCESSES,
  async () => {
    const { box, keys, bass, play } = await onStage(jack)
    const quiet = new Quiet(box)
    keys.sendMessage(on(60))
    keys.sendMessage(on(64))
    bass.sendMessage(on(45))
    await eventually(() => [0, 1, 3].every((slot) => isFlashing(box, slot, 0)), 5_000)
    const gone = lastCycle(box)
    keys.destroy()
    await eventually(() => quiet.is(FERN) && quiet.is(1), 3_000)
    const darkAfter = ((edgesOf(box.pins(), FERN).at(-1)?.cycle ?? 0) - gone) / CYCLES_A_MS
    console.log(`input gone: its lamps dark after ${darkAfter.toFixed(0)} ms`)
    expect(darkAfter).toBeLessThan(1_100)
    expect(isFlashing(box, SEDGE, lastCycle(box) - 200 * CYCLES_A_MS)).toBe(true)

    const again = instrument(jack, 'Keybed')
    await eventually(() => play.portState('keys') === 'open', 5_000)
    await connected()
    const before = play.of('figures').at(-1)?.counts['notes in'] ?? 0
    const since = lastCycle(box) + 1
    again.sendMessage(on(72))
    await eventually(() => isFlashing(box, FERN, since), 3_000)
    const told = play.of('figures').length
    await eventually(() => play.of('figures').length > told + 1, 4_000)
    expect(play.of('figures').at(-1)?.counts['notes in']).toBe(before + 1)
  },
)

test('Ctrl-C darkens every lamp before the command ends', REAL_PROCESSES, async () => {
  const { box, keys, play } = await onStage(jack)
  for (const key of [60, 64, 67]) keys.sendMessage(on(key))
  await eventually(() => [0, 1, 2].every((slot) => isFlashing(box, slot, 0)), 5_000)
  const asked = lastCycle(box)
  expect(await play.interrupt()).toBe(0)
  const lastEdge = (lastCycle(box) - asked) / CYCLES_A_MS
  console.log(`interrupted: last edge after ${lastEdge.toFixed(1)} ms`)
  expect(lastEdge).toBeLessThan(500)
  expect(ALL.map((slot) => levelAt(box.pins(), slot, Infinity))).toEqual([0, 0, 0, 0])
  expect(play.of('stopped').at(-1)?.clean).toBe(true)
  expect(play.complaints()).toBe('')
})

test('8,000 notes in 10 s: none is lost, and no lamp is left lit', REAL_PROCESSES, async () => {
  const { box, keys, play } = await onStage(jack)
  const quiet = new Quiet(box)
  const began = performance.now()
  for (let note = 0; note < 8_000; note++) {
    const due = (note * 10_000) / 8_000
    while (performance.now() - began < due) await new Promise((resolve) => setImmediate(resolve))
    const key = 40 + (note % 40)
    keys.sendMessage(on(key))
    keys.sendMessage(off(key))
  }
  await eventually(() => play.of('figures').at(-1)?.counts['notes in'] === 8_000, 15_000)
  await eventually(() => ALL.every((slot) => quiet.is(slot)), 3_000)
  expect(ALL.map((slot) => levelAt(box.pins(), slot, Infinity))).toEqual([0, 0, 0, 0])
  expect(box.pins().length).toBeGreaterThan(1_000)
  console.log(`8,000 notes: ${JSON.stringify(play.of('figures').at(-1)?.counts)}`)
})
