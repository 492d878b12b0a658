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

/** The same band with three songs and every way from one to the other, all of it worked by the keys. */
function showWithSongs() {
  const raw = showWith({ kind: 'lowest-free' })
  const [tide] = raw.songs
  if (!tide) throw new Error('no song')
  const song = (id: string, kind: Record<string, unknown>, more: object) => ({
    ...tide,
    id,
    parts: tide.parts.map((part) => ({ ...part, strategy: kind })),
    ...more,
  })
  const on = (controller: number) => ({ kind: 'controller', controller })
  return validShow({
    ...raw,
    songs: [
      song('tide', { kind: 'lowest-free' }, { enterAt: 'release', tempo: 97.0625 }),
      song(
        'dew',
        { kind: 'travel', path: 'pendulum', move: { every: '1/16' } },
        { enter: 'carry', enterAt: 'bar' },
      ),
      song('mist', { kind: 'unison' }, { enter: 'carry' }),
      song('mist-short', { kind: 'canon', delay: '1/32' }, { variantOf: 'mist', enterAt: 'beat' }),
    ],
    setList: ['tide', 'dew', 'mist'],
    switching: {
      controls: [
        { player: 'keys', on: { kind: 'program' }, do: 'number' },
        { player: 'keys', on: on(80), do: 'next' },
        { player: 'keys', on: on(81), do: 'previous' },
        { player: 'keys', on: on(82), do: 'variant' },
        { player: 'keys', on: { kind: 'note', key: 36 }, do: 'dark' },
      ],
    },
  } as never)
}

/** The performance, with a control worked after every few messages. */
function performanceWithControls(): { after: number; bytes: number[] }[] {
  const controls = [
    [0xc0, 1],
    [0xb0, 80, 127],
    [0xb0, 80, 0],
    [0xc0, 0],
    [0xb0, 82, 127],
    [0xb0, 82, 0],
    [0xc0, 2],
    [0xb0, 82, 127],
    [0xb0, 81, 127],
    [0xb0, 82, 0],
    [0x90, 36, 100],
    [0x80, 36, 64],
    [0xb0, 81, 0],
  ]
  return performance().flatMap((one, place) => {
    const worked = place % 10 === 9 ? controls[((place - 9) / 10) % controls.length] : undefined
    // Now and then time for a bar to come, and now and then none.
    const after = place % 40 === 29 ? 7_777 : 2_100_000
    if (!worked) return [one]
    // A song that comes with the last note is let come: pedal up, all notes off.
    const over =
      worked[0] === 0xc0 && worked[1] === 0
        ? [
            [0xb0, 64, 0],
            [0xb0, 123, 0],
          ]
        : []
    return [{ after, bytes: worked }, ...over.map((bytes) => ({ after: 200_000, bytes })), one]
  })
}

test('songs change at the same microseconds live as offline, and the same bytes leave', async () => {
  const show = showWithSongs()
  const playing = performanceWithControls()
  const live = startSession(show)
  const began = live.machine.timers.now()
  const keybed = live.machine.midiIn.plug('input', 'Keybed')
  const lampBox = live.machine.midiOut.plug('output', 'Lamp box')
  live.session.start()
  await live.machine.timers.pass(400_000)
  const sent: string[] = []
  const said = live.said.length

  // Beats are counted from when a song began.
  const offline = new GraphRun(show, undefined, began)
  offline.play(
    playing.map((one) => ({ player: 'keys', ...one })),
    live.machine.timers.now(),
  )
  offline.runOut()

  for (const { after, bytes } of playing) {
    live.machine.timers.run(after)
    keybed.deliver(Uint8Array.from(bytes))
  }
  await live.machine.timers.pass(10_000_000)
  const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')
  sent.push(...lampBox.sent.map(({ bytes }) => hex(bytes)))
  const sentOffline = offline
    .of('bytes')
    .flatMap(({ output, bytes }) => (output === 'din' ? [hex(bytes)] : []))
  expect(sent).toEqual(sentOffline)
  const songs = offline.of('song').map(({ place }) => `${place.song} ${place.position}`)
  const told = live.said
    .slice(said)
    .flatMap((word) => (word.type === 'song' ? [`${word.song} ${word.position}`] : []))
  expect(told).toEqual(songs)
  expect(new Set(songs).size).toBe(4)
  expect(songs.length).toBeGreaterThan(15)
  expect(live.of('dark').length).toBe(offline.of('dark').length)
  expect(offline.of('dark').length).toBeGreaterThan(2)
  // Whatever came has begun or was given up: nothing is left to come.
  expect(live.of('coming').at(-1)?.song).toBeNull()
  expect(offline.graph.lamps.some(({ on }: LampState) => on)).toBe(false)
  expect(
    live.machine.boxes
      .get('wire')
      ?.lamps()
      .some(({ on }) => on),
  ).toBe(false)
})
