import { expect, test } from 'vitest'
import { AWAKE, lamp, runLampBox, type ScriptStep, setFrame } from '../support/lamp-box-script.ts'
import { edgesOf, levelAt } from '../support/pin-edges.ts'

const MS = 16_000
const FOUR = [lamp(0, 41.2), lamp(1, 110), lamp(2, 440), lamp(3, 2000)]

const beat = (at: number): ScriptStep => ({ at, send: { type: 'beat', sequence: 9, micros: 0 } })

test('no frame for 500 ms: every pin low by then, and it stays so through beats until the next set', () => {
  const { edges, received } = runLampBox([
    { at: AWAKE, send: setFrame(0, FOUR) },
    beat(AWAKE + 1000 * MS),
    beat(AWAKE + 1100 * MS),
    { at: AWAKE + 1300 * MS, send: setFrame(1, [lamp(2, 440)]) },
    { at: AWAKE + 1500 * MS, end: true },
  ])
  const last = received.findLast(({ cycle }) => cycle < AWAKE + 100 * MS)?.cycle ?? 0
  for (const slot of [0, 1, 2, 3]) {
    const ended = edgesOf(edges, slot, 0, AWAKE + 1300 * MS).at(-1)?.cycle ?? 0
    console.log(`slot ${slot}: last edge ${((ended - last) / MS).toFixed(3)} ms after the last byte`)
    expect(ended - last).toBeGreaterThan(470 * MS)
    expect(ended - last).toBeLessThan(501 * MS)
    expect(levelAt(edges, slot, AWAKE + 1299 * MS)).toBe(0)
    expect(edgesOf(edges, slot, AWAKE + 1300 * MS).length > 0).toBe(slot === 2)
  }
})

test('a beat every 400 ms keeps the lamps lit', () => {
  const beats = [400, 800, 1200, 1600].map((ms) => beat(AWAKE + ms * MS))
  const { edges } = runLampBox([
    { at: AWAKE, send: setFrame(0, FOUR) },
    ...beats,
    { at: AWAKE + 2000 * MS, end: true },
  ])
  for (const slot of [0, 1, 2, 3]) expect(edgesOf(edges, slot, AWAKE + 1970 * MS).length).toBeGreaterThan(0)
})

test('neither damaged frames nor a looped-back line keep the lamps lit', () => {
  const noise: ScriptStep[] = Array.from({ length: 12 }, (_, at) => ({
    at: AWAKE + (at + 1) * 80 * MS,
    send: Uint8Array.of(0x05, 0x03, 0x01, 0x7d, 0x59, 0, 5, 0x7f, 1, 0),
  }))
  const { edges, answers } = runLampBox([
    { at: AWAKE, send: setFrame(0, FOUR) },
    ...noise,
    { at: AWAKE + 1100 * MS, end: true },
  ])
  expect(edges.at(-1)?.cycle).toBeLessThan(AWAKE + 502 * MS)
  expect(answers).toHaveLength(1)
})

test('sets that were to come are forgotten with the dark', () => {
  const { edges } = runLampBox([
    { at: AWAKE, send: setFrame(0, [lamp(0, 440)]) },
    { at: AWAKE + MS, send: setFrame(1, [lamp(1, 440)], 900_000) },
    { at: AWAKE + 1500 * MS, end: true },
  ])
  expect(edgesOf(edges, 0).length).toBeGreaterThan(0)
  expect(edgesOf(edges, 1)).toEqual([])
})

test('a firmware that hangs is reset by the hardware watchdog within 150 ms, goes dark, and works again', () => {
  const hung = AWAKE + 100 * MS
  const { edges, resets, answers } = runLampBox([
    { at: AWAKE, send: setFrame(0, FOUR) },
    { at: hung, hang: true },
    { at: hung + 300 * MS, send: setFrame(1, [lamp(3, 440)]) },
    { at: hung + 400 * MS, end: true },
  ])
  expect(resets).toHaveLength(1)
  const reset = resets[0] ?? 0
  expect(reset - hung).toBeLessThan(150 * MS)
  for (const slot of [0, 1, 2, 3]) {
    expect(edgesOf(edges, slot, hung - 30 * MS, hung).length).toBeGreaterThan(0)
    expect(levelAt(edges, slot, reset + 100)).toBe(0)
    expect(edgesOf(edges, slot, reset + 100).length > 0).toBe(slot === 3)
  }
  expect(answers.at(-1)?.frame).toMatchObject({ type: 'reply', answers: 1, status: 'done' })
})
