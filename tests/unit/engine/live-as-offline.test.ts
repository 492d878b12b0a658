import { expect, test } from 'vitest'
import { nextRandom } from '../../../src/domain/random.ts'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { startSession } from '../../support/memory-machine.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'

const OUTPUTS = [
  { id: 'wire', kind: 'serial', port: '/dev/box' },
  { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp', dutyController: 74 },
]
const LAMPS = GLASSHOUSE_LAMPS.map((id, index) => ({
  id,
  output: index < 2 ? 'wire' : 'din',
  slot: index % 2,
  supply: 'bench',
  watts: 10,
}))

function showWith(strategy: Record<string, unknown>) {
  return validShow(
    glasshouse({
      rig: { supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }], outputs: OUTPUTS, lamps: LAMPS },
      players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          tempo: 137.0625,
          parts: [
            {
              id: 'lead',
              player: 'keys',
              lamps: [...GLASSHOUSE_LAMPS],
              strategy,
              duty: { controller: 1 },
              gapMs: 3,
            },
          ],
        },
      ],
    } as never),
  )
}

/** Notes, pedals, bends and a controller, no two at one time, all let go at the end. */
function performance(): { after: number; bytes: number[] }[] {
  const played: { after: number; bytes: number[] }[] = []
  let seed = 5
  const random = (below: number): number => {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    return Math.floor(drawn.value * below)
  }
  for (let count = 0; count < 400; count++) {
    const key = 48 + random(24)
    const kinds = [
      [0x90, key, 1 + random(127)],
      [0x90, key, 1 + random(127)],
      [0x80, key, 64],
      [0x80, key, 64],
      [0xb0, 64, 127 * random(2)],
      [0xb0, 1, random(128)],
      [0xe0, 0, random(128)],
    ]
    played.push({ after: 1 + random(90_000), bytes: kinds[random(kinds.length)] ?? [] })
  }
  const over = [[0xb0, 64, 0], ...Array.from({ length: 24 }, (_, index) => [0x80, 48 + index, 64])]
  return [...played, ...over.map((bytes) => ({ after: 50, bytes }))]
}

test.each([
  { kind: 'lowest-free' },
  { kind: 'travel', path: 'pendulum', move: { every: '1/16' }, width: 2, overlapMs: 20 },
  { kind: 'canon', delay: '1/32' },
  { kind: 'unison', retrigger: true },
])('live sends the bytes that offline sends, and ends with the same lamps: %o', async (strategy) => {
  const show = showWith(strategy)
  const offline = new GraphRun(show)
  const playing = performance()
  offline.play(playing.map((one) => ({ player: 'keys', ...one })))
  offline.runOut()

  const live = startSession(show)
  const keybed = live.machine.midiIn.plug('input', 'Keybed')
  const lampBox = live.machine.midiOut.plug('output', 'Lamp box')
  live.session.start()
  await live.machine.timers.pass(400_000)
  const box = live.machine.boxes.get('wire')
  const boxLit: boolean[][] = []
  for (const { after, bytes } of playing) {
    live.machine.timers.run(after)
    keybed.deliver(Uint8Array.from(bytes))
  }
  await live.machine.timers.pass(10_000_000)
  boxLit.push((box?.lamps() ?? []).map(({ on }) => on))

  const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')
  const sentOffline = offline
    .of('bytes')
    .flatMap(({ output, bytes }) => (output === 'din' ? [hex(bytes)] : []))
  expect(lampBox.sent.map(({ bytes }) => hex(bytes))).toEqual(sentOffline)
  expect(sentOffline.length).toBeGreaterThan(200)
  expect(offline.graph.lamps.map(({ on }: LampState) => on)).toEqual([false, false, false, false])
  expect(boxLit[0]?.slice(0, 2)).toEqual([false, false])
})
