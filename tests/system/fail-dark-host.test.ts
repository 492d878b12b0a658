import { join } from 'node:path'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { enter } from '../support/caller.ts'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { connected, startJackMidi } from '../support/jack-midi.ts'
import { LampBoxCable } from '../support/lamp-box-cable.ts'
import { startLampBox } from '../support/lamp-box-firmware.ts'
import {
  A_MS,
  allLow,
  CHORD,
  framesTo,
  holdChord,
  isAlive,
  lastAnswer,
  lastEdge,
  onCable,
  pause,
  WATCHDOG_MS,
} from '../support/lamp-box-stage.ts'
import { instrument, isFlashing, lastCycle, off, on } from '../support/live-stage.ts'
import { liveShow } from '../support/live-band.ts'
import { startOpen } from '../support/open-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'
import { scratchFolder } from '../support/scratch.ts'

// What becomes of lit lamps when something fails on the side of the computer: times are the box's own, at its pins.

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi({ waits: false })
}, 120_000)
afterAll(() => jack?.stop())

test(
  'an engine that hangs: the pins are low within 500 ms of its last frame; it is replaced, and nothing comes back by itself',
  REAL_PROCESSES,
  async () => {
    const stage = await onCable(jack)
    const { box, play } = stage
    await holdChord(stage)
    const pid = play.enginePid()
    const hungAt = lastCycle(box)
    process.kill(pid, 'SIGSTOP')
    await eventually(() => play.of('hello').length === 2, 10_000)
    const dark = lastEdge(box)
    const last = lastAnswer(box, dark)
    console.log(
      `engine hung: dark ${((dark - hungAt) / A_MS).toFixed(0)} ms later, ${((dark - last) / A_MS).toFixed(1)} ms after its last answer`,
    )
    expect(dark - last).toBeLessThanOrEqual(WATCHDOG_MS * A_MS)
    await eventually(() => play.of('loaded').length === 2 && play.portState('wire') === 'ready', 10_000)
    await pause(500)
    expect(lastEdge(box)).toBe(dark)
    expect(allLow(box)).toBe(true)
    const told = play.of('diagnostic').map(({ diagnostic }) => diagnostic.code)
    expect(told.filter((code) => code.startsWith('engine-'))).toEqual(['engine-hangs', 'engine-ended'])
    expect(isAlive(pid)).toBe(false)
  },
)

test(
  'everything held still for seconds, as by a sleep that nobody announced: low within 500 ms, dark when it goes on, and the next note sounds',
  REAL_PROCESSES,
  async () => {
    const stage = await onCable(jack)
    const { box, play, keys } = stage
    await holdChord(stage)
    const stoppedAt = lastCycle(box)
    const group = [play.pid, play.enginePid()]
    for (const pid of group) process.kill(pid, 'SIGSTOP')
    await pause(3_500)
    const dark = lastEdge(box)
    const last = lastAnswer(box, dark)
    console.log(
      `asleep: dark ${((dark - stoppedAt) / A_MS).toFixed(0)} ms later, ${((dark - last) / A_MS).toFixed(1)} ms after its last answer`,
    )
    expect(dark - last).toBeLessThanOrEqual(WATCHDOG_MS * A_MS)
    const frames = framesTo(box).length
    for (const pid of group) process.kill(pid, 'SIGCONT')
    // A second of beats: were the chord to come back, it would with one of the first.
    await eventually(() => framesTo(box).length > frames + 10, 8_000)
    expect(lastEdge(box)).toBe(dark)
    const told = play.of('diagnostic').map(({ diagnostic }) => diagnostic)
    expect(told).toMatchObject([
      { code: 'slept', message: expect.stringMatching(/away for \d.*all lamps dark/) },
    ])
    for (const key of CHORD) keys.sendMessage(off(key))
    await holdChord(stage, dark + 1)
  },
)

test('the command killed: its engine darkens the box at once, and ends', REAL_PROCESSES, async () => {
  const stage = await onCable(jack)
  const { box, play } = stage
  await holdChord(stage)
  const engine = play.enginePid()
  const killedAt = lastCycle(box)
  process.kill(play.pid, 'SIGKILL')
  await eventually(() => !isAlive(engine), 8_000)
  const dark = lastEdge(box)
  console.log(`command killed: dark ${((dark - killedAt) / A_MS).toFixed(1)} ms later`)
  // By a frame that says so, not by the box's own watchdog.
  const said = framesTo(box).filter(({ cycle }) => cycle > killedAt)
  expect(said.some(({ frame }) => frame.type === 'dark')).toBe(true)
  expect(dark - killedAt).toBeLessThan(WATCHDOG_MS * A_MS)
  expect(allLow(box)).toBe(true)
})

test(
  'a browser that is gone changes nothing; its server killed, and the box is darkened at once',
  REAL_PROCESSES,
  async () => {
    const box = await startLampBox()
    onTestFinished(() => box.stop())
    const cable = new LampBoxCable(join(scratchFolder(), 'cable'), box.pty)
    await cable.plug()
    onTestFinished(() => cable.pull())
    const keys = instrument(jack, 'Keybed')
    const open = await startOpen(liveShow(cable.host))
    const screen = await enter({ at: open.at }, { key: open.key })
    screen.ask({ type: 'cautions-read' })
    screen.ask({ type: 'rig', rig: 'real' })
    const isThere = (id: string, state: string): boolean =>
      screen.of('port').findLast(({ port }) => port.id === id)?.port.state === state
    await eventually(() => isThere('wire', 'ready') && isThere('keys', 'open'), 15_000)
    await connected()
    await holdChord({ box, keys })
    await screen.hangUp()
    await pause(700)
    expect([0, 1, 2].every((slot) => isFlashing(box, slot, lastCycle(box) - 100 * A_MS))).toBe(true)
    const killedAt = lastCycle(box)
    await open.kill()
    const saidDark = (): boolean =>
      framesTo(box).some(({ frame, cycle }) => frame.type === 'dark' && cycle > killedAt)
    await eventually(saidDark, 5_000)
    await pause(100)
    expect(allLow(box)).toBe(true)
    const dark = lastEdge(box)
    console.log(`server killed: dark ${((dark - killedAt) / A_MS).toFixed(1)} ms later`)
    expect(dark - killedAt).toBeLessThan(WATCHDOG_MS * A_MS)
    keys.sendMessage(on(72))
    await pause(300)
    expect(lastEdge(box)).toBe(dark)
  },
)
