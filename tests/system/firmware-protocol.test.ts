import { expect, test } from 'vitest'
import { encodeFrame } from '../../src/outputs/frame-wire.ts'
import type { HostFrame } from '../../src/outputs/serial-frame.ts'
import { fromHex } from '../support/hex.ts'
import { AWAKE, lamp, runLampBox, setFrame, statuses } from '../support/lamp-box-script.ts'
import { edgesOf } from '../support/pin-edges.ts'
import { firmwareVectors } from '../support/firmware-vectors.ts'

const MS = 16_000

/** Each frame alone on the line, 2 ms apart. */
function ask(...frames: (HostFrame | Uint8Array)[]) {
  const steps = frames.map((send, at) => ({ at: AWAKE + 2 * at * MS, send }))
  return runLampBox([...steps, { at: AWAKE + 2 * (frames.length + 1) * MS, end: true }])
}

test('hello is answered by the identity', () => {
  const { answers } = ask({ type: 'hello', sequence: 77, version: 1 })
  expect(answers.map(({ frame }) => frame)).toEqual([
    {
      type: 'identity',
      sequence: 0,
      version: 1,
      lamps: 4,
      clockHz: 16_000_000,
      bits: 16,
      prescalers: [1, 8, 64, 256, 1024],
    },
  ])
})

test('set, dark and beat are answered with their own sequence number, and box time goes on', () => {
  const frames: HostFrame[] = Array.from({ length: 300 }, (_, at) => {
    const sequence = at % 256
    if (at % 3 === 0) return setFrame(sequence, [lamp(at % 4, 100 + at)])
    return at % 3 === 1 ? { type: 'beat', sequence, micros: at } : { type: 'dark', sequence }
  })
  const { answers } = ask(...frames)
  const replies = answers.flatMap(({ frame, cycle }) => (frame.type === 'reply' ? [{ ...frame, cycle }] : []))
  expect(replies.map((reply) => reply.answers)).toEqual(frames.map(({ sequence }) => sequence))
  expect(new Set(replies.map(({ status }) => status))).toEqual(new Set(['done']))
  expect(replies.map(({ sequence }) => sequence)).toEqual(frames.map((_, at) => at % 256))
  for (const [at, { micros, cycle }] of replies.entries()) {
    const before = replies[at - 1]
    if (!before) continue
    expect(Math.abs(micros - before.micros - (cycle - before.cycle) / 16)).toBeLessThan(400)
  }
})

test('no such slot: nothing of the frame is done', () => {
  const run = ask(setFrame(1, [lamp(0, 440), lamp(4, 440)]), setFrame(2, [lamp(255, 0)]))
  expect(statuses(run)).toEqual(['no-such-slot', 'no-such-slot'])
  expect(run.edges).toEqual([])
})

test('refused, and nothing of it done: a rate too low, an unknown type, a body of the wrong length', () => {
  const bodies = firmwareVectors().damaged.filter(({ damage }) => damage === 'payload')
  const fromHost = bodies.filter(({ name }) => !name.startsWith('reply'))
  const sent = fromHost.map(({ block }) => fromHex(`${block}00`))
  const low = setFrame(3, [lamp(0, 440), { slot: 1, rate: 15_624, duty: 1000 }])
  const run = ask(low, ...sent)
  expect(sent.length).toBeGreaterThanOrEqual(4)
  expect(statuses(run)).toEqual(['refused', ...sent.map(() => 'refused')])
  expect(run.edges).toEqual([])
})

test('what comes from a box is not answered', () => {
  const wires = firmwareVectors().frames.filter(
    ({ frame }) => frame.type === 'reply' || frame.type === 'identity',
  )
  expect(wires.length).toBeGreaterThan(3)
  const run = ask(...wires.map(({ wire }) => fromHex(wire)), { type: 'beat', sequence: 5, micros: 0 })
  expect(run.answers).toHaveLength(1)
})

test('a lamp named twice takes its last setting; a set of none is done', () => {
  const run = ask(setFrame(1, [lamp(0, 440), lamp(0, 0), lamp(1, 0), lamp(1, 440)]), setFrame(2, []))
  expect(statuses(run)).toEqual(['done', 'done'])
  expect(edgesOf(run.edges, 0)).toEqual([])
  expect(edgesOf(run.edges, 1).length).toBeGreaterThan(0)
})

const many = (count: number) => Array.from({ length: count }, (_, at) => lamp(at % 4, 200 + at))

test('the longest frames: 35 lamps in one run of COBS, and 255 lamps', () => {
  const run = runLampBox([
    { at: AWAKE, send: [setFrame(1, many(35)), setFrame(2, many(255))] },
    { at: AWAKE + 60 * MS, end: true },
  ])
  expect(statuses(run)).toEqual(['done', 'done'])
  expect(run.overruns).toBe(0)
})

test('each single flipped bit of a set frame is refused without an answer, and the next good frame is taken', () => {
  const set = setFrame(0xa5, [lamp(0, 440), lamp(1, 1000)])
  const good = encodeFrame(set)
  const bits = good.length * 8
  const steps = Array.from({ length: bits }, (_, bit) => {
    const bad = good.slice()
    bad[bit >> 3] = (bad[bit >> 3] ?? 0) ^ (1 << (bit & 7))
    // A flip in the last byte takes the 00 away: the 00 ahead of the good frame ends the damaged one.
    return {
      at: AWAKE + bit * 3 * MS,
      send: Uint8Array.of(...bad, 0, ...encodeFrame({ type: 'beat', sequence: bit % 256, micros: 0 })),
    }
  })
  const run = runLampBox([...steps, { at: AWAKE + bits * 3 * MS, end: true }])
  expect(run.edges).toEqual([])
  expect(run.answers.map(({ frame }) => frame.type === 'reply' && [frame.answers, frame.status])).toEqual(
    steps.map((_, bit) => [bit % 256, 'done']),
  )
})

test('garbage at full line rate: nothing lit, nothing overrun, the next good frame taken', () => {
  let seed = 12_345
  const garbage = Uint8Array.from({ length: 50_000 }, () => {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0
    return seed >>> 16
  })
  const run = runLampBox(
    [
      { at: AWAKE, send: Uint8Array.of(...garbage, 0) },
      { at: AWAKE + 1, send: setFrame(7, [lamp(0, 440)]) },
      { at: AWAKE + 50_200 * 320, end: true },
    ],
    '--peek',
    'uart_ring_full',
  )
  expect(run.overruns).toBe(0)
  expect(run.peeked).toEqual({ uart_ring_full: 0 })
  expect(run.answers.map(({ frame }) => frame.type === 'reply' && frame.answers)).toEqual([7])
  expect(new Set(run.edges.map(({ slot }) => slot))).toEqual(new Set([0]))
})

test('100,000 bytes without a 00 do no harm', () => {
  const run = runLampBox([
    { at: AWAKE, send: new Uint8Array(100_000).fill(0x55) },
    {
      at: AWAKE + 100_001 * 320,
      send: Uint8Array.of(0, ...encodeFrame({ type: 'beat', sequence: 3, micros: 0 })),
    },
    { at: AWAKE + 100_200 * 320, end: true },
  ])
  expect(run.overruns).toBe(0)
  expect(run.answers.map(({ frame }) => frame.type === 'reply' && frame.answers)).toEqual([3])
})

const ONE = (at: number) => setFrame(at % 256, [lamp(at % 4, 300 + at)])
const FOUR = (at: number) =>
  setFrame(
    at % 256,
    [0, 1, 2, 3].map((slot) => lamp(slot, 260 + at + slot)),
  )
const DARK = (at: number): HostFrame => ({ type: 'dark', sequence: at % 256 })
const COUNTERS = ['--peek', 'uart_ring_full', '--peek', 'box_unanswered']

for (const [name, make] of [
  ['one lamp', ONE],
  ['four lamps', FOUR],
  ['dark', DARK],
] as const) {
  test(`a burst of frames of ${name} back to back at full line rate, 255 bytes of them: every one answered`, () => {
    const bytes = encodeFrame(make(0)).length
    const frames = Array.from({ length: Math.min(18, Math.floor(255 / bytes)) }, (_, at) => make(at))
    const run = runLampBox(
      [
        { at: AWAKE, send: frames },
        { at: AWAKE + 60 * MS, end: true },
      ],
      ...COUNTERS,
    )
    expect(run.overruns).toBe(0)
    expect(run.peeked).toEqual({ uart_ring_full: 0, box_unanswered: 0 })
    expect(run.answers).toHaveLength(frames.length)
  })

  test(`frames of ${name} back to back without end: what is lost is lost whole, the rest done in order, and then all is well`, () => {
    const frames = Array.from({ length: 250 }, (_, at) => make(at))
    const run = runLampBox(
      [
        { at: AWAKE, send: frames },
        { at: AWAKE + 400 * MS, send: new Uint8Array(1) },
        { at: AWAKE + 401 * MS, send: { type: 'beat', sequence: 255, micros: 0 } },
        { at: AWAKE + 403 * MS, end: true },
      ],
      ...COUNTERS,
    )
    expect(run.overruns).toBe(0)
    expect(new Set(statuses(run))).toEqual(new Set(['done']))
    const answered = run.answers.map(({ frame }) => (frame.type === 'reply' ? frame.answers : -1))
    expect(answered).toEqual([...new Set(answered)].sort((left, right) => left - right))
    expect(answered.at(-1)).toBe(255)
    console.log(`${name}: ${answered.length - 1} of 250 answered, bytes dropped ${run.peeked.uart_ring_full}`)
    expect(answered.length).toBeGreaterThan(100)
  })
}

for (const [name, make, every] of [
  ['one lamp', ONE, 10_000],
  ['four lamps', FOUR, 20_000],
  ['dark', DARK, 8000],
] as const) {
  test(`a frame of ${name} every ${every / 16} us for 600 frames: every one answered, nothing lost`, () => {
    const run = runLampBox(
      [
        ...Array.from({ length: 600 }, (_, at) => ({ at: AWAKE + at * every, send: make(at) })),
        { at: AWAKE + 610 * every, end: true },
      ],
      ...COUNTERS,
    )
    expect(run.overruns).toBe(0)
    expect(run.peeked).toEqual({ uart_ring_full: 0, box_unanswered: 0 })
    expect(run.answers).toHaveLength(600)
  })
}
