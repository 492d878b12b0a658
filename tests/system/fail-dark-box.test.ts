import { describe, expect, test } from 'vitest'
import { eventually } from '../support/eventually.ts'
import { AWAKE, lamp, runLampBox, type ScriptStep, setFrame } from '../support/lamp-box-script.ts'
import {
  A_MS,
  allLow,
  framesTo,
  holdChord,
  lastAnswer,
  lastEdge,
  onCable,
  pause,
  WATCHDOG_MS,
} from '../support/lamp-box-stage.ts'
import { isFlashing, lastCycle } from '../support/live-stage.ts'
import { edgesOf, levelAt } from '../support/pin-edges.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const SLOTS = [0, 1, 2, 3]
const FOUR = [lamp(0, 41.2), lamp(1, 110), lamp(2, 440), lamp(3, 2000, 1)]
const beat = (at: number): ScriptStep => ({ at, send: { type: 'beat', sequence: 9, micros: 0 } })

describe('the firmware alone, in its own time', () => {
  test('its reset pin while four lamps are lit: every pin low at once, and until somebody sets it again', () => {
    const at = AWAKE + 300 * A_MS
    const { edges, resets, answers } = runLampBox([
      { at: AWAKE, send: setFrame(0, FOUR) },
      { at, line: 'reset' },
      beat(at + 100 * A_MS),
      beat(at + 200 * A_MS),
      { at: at + 300 * A_MS, send: setFrame(1, [lamp(1, 110)]) },
      { at: at + 400 * A_MS, end: true },
    ])
    expect(resets).toHaveLength(1)
    expect(levelAt(edges, 3, at - 1)).toBe(1)
    for (const slot of SLOTS) {
      expect(edgesOf(edges, slot, AWAKE, at).length).toBeGreaterThan(0)
      // The instruction that was under way may end.
      expect(edgesOf(edges, slot, at + 16, at + 300 * A_MS)).toEqual([])
      expect(levelAt(edges, slot, at + 16)).toBe(0)
      expect(edgesOf(edges, slot, at + 300 * A_MS).length > 0).toBe(slot === 1)
    }
    expect(answers.at(-1)?.frame).toMatchObject({ answers: 1, status: 'done' })
  })

  test('its power, gone for two seconds: low from then on, whatever was sent meanwhile and whatever its memory came back with', () => {
    const gone = AWAKE + 300 * A_MS
    const back = gone + 2000 * A_MS
    const { edges, answers } = runLampBox([
      { at: AWAKE, send: setFrame(0, FOUR) },
      { at: AWAKE + A_MS, send: setFrame(1, FOUR, 400_000) },
      { at: gone, line: 'off' },
      { at: gone + 500 * A_MS, send: setFrame(2, FOUR) },
      { at: back, line: 'on' },
      beat(back + 100 * A_MS),
      beat(back + 500 * A_MS),
      { at: back + 900 * A_MS, send: setFrame(3, [lamp(2, 440)]) },
      { at: back + 1000 * A_MS, end: true },
    ])
    for (const slot of SLOTS) {
      expect(edgesOf(edges, slot, AWAKE, gone).length).toBeGreaterThan(0)
      expect(edgesOf(edges, slot, gone + 16, back + 900 * A_MS)).toEqual([])
      expect(levelAt(edges, slot, gone + 16)).toBe(0)
      expect(edgesOf(edges, slot, back + 900 * A_MS).length > 0).toBe(slot === 2)
    }
    expect(answers.at(-1)?.frame).toMatchObject({ answers: 3, status: 'done' })
  })
})

describe('the firmware and a host that plays on', () => {
  test(
    'the cable pulled in a chord: low within 500 ms of the last frame; plugged in again, what is held lights again',
    REAL_PROCESSES,
    async () => {
      const stage = await onCable()
      const { box, play, cable } = stage
      await holdChord(stage)
      const pulledAt = lastCycle(box)
      await cable.pull()
      await eventually(() => allLow(box) && play.portState('wire') !== 'ready', 5_000)
      await pause(500)
      const dark = lastEdge(box)
      const last = lastAnswer(box, dark)
      console.log(
        `cable out: dark ${((dark - pulledAt) / A_MS).toFixed(0)} ms later, ${((dark - last) / A_MS).toFixed(1)} ms after its last answer`,
      )
      expect(dark - last).toBeLessThanOrEqual(WATCHDOG_MS * A_MS)
      await cable.plug()
      await eventually(() => play.portState('wire') === 'ready', 10_000)
      await eventually(() => [0, 1, 2].every((slot) => isFlashing(box, slot, dark + 1)), 5_000)
      const words = play.of('port').flatMap(({ port }) => (port.id === 'wire' ? [port.message] : []))
      expect(words.at(-1)).toBe('the lamp box is back')
    },
  )

  test(
    'reset, and without power for two seconds, while it is played: dark from that on; the host notices, and what is held lights again',
    REAL_PROCESSES,
    async () => {
      const stage = await onCable()
      const { box, play } = stage
      await holdChord(stage)
      box.line('reset')
      await eventually(() => box.log().resets.length === 1, 3_000)
      const reset = box.log().resets[0] ?? 0
      await eventually(() => [0, 1, 2].every((slot) => isFlashing(box, slot, reset + 16)), 5_000)
      const first = box.pins().find(({ cycle }) => cycle > reset + 16)?.cycle ?? 0
      console.log(`reset: lit again ${((first - reset) / A_MS).toFixed(0)} ms later`)
      // Only because it was told all there is anew.
      const set = framesTo(box).find(({ frame, cycle }) => frame.type === 'set' && cycle > reset)
      expect(set?.cycle ?? Infinity).toBeLessThan(first)

      box.line('off')
      await eventually(() => play.portState('wire') === 'lost', 5_000)
      await pause(1_000)
      const dark = lastEdge(box)
      expect(allLow(box)).toBe(true)
      box.line('on')
      await eventually(() => play.portState('wire') === 'ready', 5_000)
      await eventually(() => [0, 1, 2].every((slot) => isFlashing(box, slot, dark + 1)), 5_000)
      const again = framesTo(box).find(({ frame, cycle }) => frame.type === 'set' && cycle > dark)
      expect(again?.cycle ?? Infinity).toBeLessThan(box.pins().find(({ cycle }) => cycle > dark)?.cycle ?? 0)
      const words = play.of('port').flatMap(({ port }) => (port.id === 'wire' ? [port.message] : []))
      expect(words.slice(-2)).toEqual([
        expect.stringMatching(/does not answer any more/),
        'the lamp box is back',
      ])
    },
  )
})
