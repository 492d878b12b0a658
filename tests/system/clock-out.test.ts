import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { connected, startJackMidi } from '../support/jack-midi.ts'
import { liveShow } from '../support/live-band.ts'
import { instrument } from '../support/live-stage.ts'
import { startPlaying } from '../support/play-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi()
}, 120_000)
afterAll(() => jack?.stop())

/** A machine that follows: every byte that it is sent. */
function follower(name: string): number[] {
  const bytes: number[] = []
  const input = new (jack.load().Input)()
  input.ignoreTypes(false, false, false)
  input.on('messageBuffer', (_, message) => bytes.push(...message))
  input.openVirtualPort(name)
  onTestFinished(() => input.destroy())
  return bytes
}

test(
  'two machines that follow get the same clocks, a Start with the second song, and a Stop as the engine ends',
  REAL_PROCESSES,
  async () => {
    const tower = follower('Tower')
    const cellar = follower('Cellar')
    const keys = instrument(jack, 'Keybed')
    const show = liveShow('/tmp/no-such-lamp-box', {
      clock: { send: ['Tower', 'Cellar'] },
      switching: { controls: [{ player: 'keys', on: { kind: 'program' }, do: 'number' }] },
    })
    const play = await startPlaying(show, jack.env)
    const open = (id: string): boolean => play.portState(id) === 'open'
    await eventually(() => open('clock Tower') && open('clock Cellar') && open('keys'), 10_000)
    await connected()
    await eventually(() => tower.filter((byte) => byte === 0xf8).length >= 24, 5_000)
    // Who comes while a song plays is led on by Song Position (of two bytes under 80h) and Continue.
    const words = tower.filter((byte) => byte !== 0xf8)
    expect(words).toEqual([0xf2, expect.any(Number), expect.any(Number), 0xfb])
    expect(Math.max(words[1] ?? 0x80, words[2] ?? 0x80)).toBeLessThan(0x80)

    keys.sendMessage(Buffer.of(0xc0, 1))
    await eventually(() => tower.includes(0xfa), 5_000)
    const from = tower.lastIndexOf(0xfa)
    await eventually(() => tower.length - from > 48, 5_000)
    expect(await play.interrupt()).toBe(0)
    await eventually(() => tower.at(-1) === 0xfc && cellar.at(-1) === 0xfc, 5_000)

    // The song before is stopped first; the new one's downbeat is the next clock.
    expect(tower[from - 1]).toBe(0xfc)
    const since = tower.slice(from)
    expect(new Set(since.slice(1, -1))).toEqual(new Set([0xf8]))
    expect(since.length).toBeGreaterThan(48)
    expect(cellar.slice(cellar.lastIndexOf(0xfa))).toEqual(since)
  },
)
