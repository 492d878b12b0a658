import { afterAll, beforeAll, expect, test } from 'vitest'
import { midiKeyToHz } from '../../src/domain/pitch.ts'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { startJackMidi } from '../support/jack-midi.ts'
import type { LiveStage } from '../support/live-stage.ts'
import { isFlashing, lastCycle, off, on, onStage, Quiet } from '../support/live-stage.ts'
import { edgesOf } from '../support/pin-edges.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const CYCLES_A_MS = 16_000
const CHORD = [60, 64, 67]

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi({ waits: false })
}, 120_000)
afterAll(() => jack?.stop())

/** This server may lose a message: strikes until all three flash. */
async function holdChord({ keys, box }: LiveStage): Promise<void> {
  await eventually(() => {
    if ([0, 1, 2].every((slot) => isFlashing(box, slot, 0))) return true
    if (performance.now() - lastStrike > 700) {
      lastStrike = performance.now()
      for (const key of CHORD) keys.sendMessage(off(key))
      for (const key of CHORD) keys.sendMessage(on(key))
    }
    return false
  }, 8_000)
}
let lastStrike = 0

test(
  'an engine killed in a chord: every pin still within 500 ms and a period, the engine back in the same song, the next note sounds',
  REAL_PROCESSES,
  async () => {
    const stage = await onStage(jack)
    const { box, play, keys } = stage
    const quiet = new Quiet(box)
    await holdChord(stage)
    const pid = play.enginePid()
    const killedAt = lastCycle(box)
    const began = performance.now()
    process.kill(pid, 'SIGKILL')
    await eventually(() => play.of('loaded').length === 2 && boxAnswers(play) === 2, 8_000)
    const back = performance.now() - began
    await eventually(() => [0, 1, 2].every((slot) => quiet.is(slot)), 3_000)
    const last = Math.max(...[0, 1, 2].map((slot) => edgesOf(box.pins(), slot).at(-1)?.cycle ?? 0))
    const still = (last - killedAt) / CYCLES_A_MS
    console.log(`killed: pins still after ${still.toFixed(1)} ms, engine back after ${back.toFixed(0)} ms`)
    expect(still).toBeLessThan(500 + 1000 / midiKeyToHz(60))
    expect(back).toBeLessThan(5_000)
    expect(play.enginePid()).not.toBe(pid)
    expect(play.of('loaded').map(({ song }) => song)).toEqual(['tide', 'tide'])

    await eventually(() => play.portState('wire') === 'ready' && play.portState('keys') === 'open', 8_000)
    const since = lastCycle(box) + 1
    await eventually(() => {
      if (performance.now() - lastStrike > 700) {
        lastStrike = performance.now()
        keys.sendMessage(off(72))
        keys.sendMessage(on(72))
      }
      return isFlashing(box, 0, since)
    }, 5_000)
    keys.sendMessage(off(72))
  },
)

/** How often a lamp box answered an engine. */
function boxAnswers(play: LiveStage['play']): number {
  return play.of('port').filter(({ port }) => port.id === 'wire' && port.state === 'ready').length
}
