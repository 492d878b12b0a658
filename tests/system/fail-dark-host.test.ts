import { expect, onTestFinished, test, vi } from 'vitest'
import { enter } from '../support/caller.ts'
import { eventually } from '../support/eventually.ts'
import {
  A_MS,
  allLow,
  cabledBox,
  framesTo,
  holdChord,
  isAlive,
  lastAnswer,
  lastEdge,
  onCable,
  pause,
  WATCHDOG_MS,
} from '../support/lamp-box-stage.ts'
import { isFlashing, lastCycle } from '../support/live-stage.ts'
import { startOpen } from '../support/open-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

// What becomes of lit lamps when something fails on the side of the computer: times are the box's own, at its pins.

test(
  'an engine that hangs: the pins are low within 500 ms of its last frame; it is replaced, and nothing comes back by itself',
  REAL_PROCESSES,
  async () => {
    const stage = await onCable()
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
    const stage = await onCable()
    const { box, play } = stage
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
    await holdChord(stage)
  },
)

test('the command killed: its engine darkens the box at once, and ends', REAL_PROCESSES, async () => {
  const stage = await onCable()
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
    const stage = await cabledBox()
    const { box, midi } = stage
    for (const [name, value] of Object.entries(midi.env)) vi.stubEnv(name, value)
    onTestFinished(() => void vi.unstubAllEnvs())
    const open = await startOpen(stage.show)
    const screen = await enter({ at: open.at }, { key: open.key })
    screen.ask({ type: 'cautions-read' })
    screen.ask({ type: 'rig', rig: 'real' })
    const isThere = (id: string, state: string): boolean =>
      screen.of('port').findLast(({ port }) => port.id === id)?.port.state === state
    await eventually(() => isThere('wire', 'ready') && isThere('keys', 'open'), 15_000)
    await holdChord(stage)
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
    midi.play(0x90, 72, 100)
    await pause(300)
    expect(lastEdge(box)).toBe(dark)
  },
)
