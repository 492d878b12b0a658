import { decodeFrame, encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { expect, test } from 'vitest'
import { darkChange, LinkLine, litChange } from '../../support/link-line.ts'

const types = (line: LinkLine) => line.written.map(({ frame }) => frame.type)

test('opening: dark, hello, identity, then the full state, also what changed meanwhile', () => {
  const line = new LinkLine({ lamps: 3 })
  line.set(litChange(1, 500))
  expect(line.written).toEqual([])
  line.open()
  line.set(litChange(2, 700))
  line.run(5)
  expect(line.written.slice(0, 3).map(({ frame }) => frame)).toEqual([
    { type: 'dark', sequence: 0 },
    { type: 'hello', sequence: 1, version: 1 },
    {
      type: 'set',
      sequence: 2,
      at: 0,
      lamps: [
        { slot: 0, rate: 0, duty: 0 },
        { slot: 1, rate: 500 * 65536, duty: 32768 },
        { slot: 2, rate: 700 * 65536, duty: 32768 },
      ],
    },
  ])
  expect(line.outOf('state').map(({ state }) => state)).toEqual(['greeting', 'ready'])
})

test('a board that is deaf for 3 s after opening is greeted every 250 ms, and then gets the full state once', () => {
  const line = new LinkLine({ lamps: 2, box: { bootMs: 3000 } })
  line.set(litChange(0, 440))
  line.open()
  line.run(2999)
  expect(new Set(types(line))).toEqual(new Set(['dark', 'hello']))
  const hellos = line.written.filter(({ frame }) => frame.type === 'hello')
  expect(hellos.map(({ at }) => Math.floor((at - 1_000_000) / 1000))).toEqual(
    Array.from({ length: 12 }, (_, count) => count * 250),
  )
  line.run(300)
  expect(types(line).filter((type) => type === 'set')).toHaveLength(1)
  expect(line.agrees).toBe(true)
  expect(line.box.lamps()[0]?.on).toBe(true)
})

test('beats go every 100 ms with the host’s microseconds, and the box stays awake', () => {
  const line = new LinkLine({ lamps: 1 })
  line.set(litChange(0, 440))
  line.open()
  line.run(1050)
  const beats = line.written.filter(({ frame }) => frame.type === 'beat')
  expect(beats.map(({ at }) => (at - 1_000_000) / 1000)).toEqual([
    0, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000,
  ])
  for (const { at, frame } of beats) expect(frame).toMatchObject({ micros: at })
  expect(line.box.lamps()[0]?.on).toBe(true)
})

test('a box that is as the show says differs in nothing; another is told of, in words', () => {
  const same = new LinkLine({ lamps: 1 })
  same.open()
  same.run(5)
  expect(same.outOf('identity')).toEqual([
    {
      kind: 'identity',
      identity: {
        version: 1,
        lamps: 1,
        timer: { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 },
      },
      differs: undefined,
      missing: [],
    },
  ])
  const other = new LinkLine({
    lamps: 3,
    box: { lamps: 2, timer: { clockHz: 20_000_000, prescalers: [1, 8], bits: 12 } },
  })
  other.open()
  other.run(5)
  const [told] = other.outOf('identity')
  expect(told).toMatchObject({
    identity: { lamps: 2, timer: { clockHz: 20_000_000, prescalers: [1, 8], bits: 12 } },
    missing: [2],
  })
  expect(told?.differs).toBe(
    "the box's clock is 20000000 Hz, the show says 16000000 Hz; the box's timers have 12 bits, the show says 16; " +
      "the box's prescalers are 1, 8, the show says 1, 8, 64, 256, 1024; the box has no slot 2, so those lamps stay dark",
  )
})

test('a box whose frames are of another version is told of and never lit', () => {
  const line = new LinkLine({
    lamps: 2,
    toHost: (bytes) => {
      const frame = decodeFrame(bytes.subarray(0, -1))
      const isIdentity = typeof frame !== 'string' && frame.type === 'identity'
      return { bytes: isIdentity ? encodeFrame({ ...frame, version: 2 }) : bytes, delay: 0 }
    },
  })
  line.open()
  line.set(litChange(0, 500))
  line.run(3_000)
  expect(line.outOf('identity')[0]?.differs).toMatch(
    /version 2 of the frames, this program version 1: .*dark/,
  )
  line.set(litChange(1, 600), darkChange(0))
  line.run(100)
  expect(line.written.filter(({ frame }) => frame.type === 'set')).toEqual([])
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
})

test('slots that the box has not are never sent', () => {
  const line = new LinkLine({ lamps: 3, box: { lamps: 2 } })
  line.open()
  line.set(litChange(0, 500), litChange(2, 500))
  line.run(20)
  line.set(darkChange(2), litChange(1, 600))
  line.run(20)
  const slots = line.written.flatMap(({ frame }) =>
    frame.type === 'set' ? frame.lamps.map(({ slot }) => slot) : [],
  )
  expect(new Set(slots)).toEqual(new Set([0, 1]))
  expect(line.agrees).toBe(true)
  expect(line.outOf('count')).toEqual([])
})

test('256 lamps: the box says 0, the full state goes in frames of 35 at most, two on the way', () => {
  const line = new LinkLine({ lamps: 256 })
  line.set(...Array.from({ length: 256 }, (_, index) => litChange(index, index + 50)))
  line.open()
  line.run(50)
  expect(line.outOf('identity')[0]?.identity.lamps).toBe(256)
  expect(types(line).filter((type) => type === 'set')).toHaveLength(8)
  expect(line.mostSetsInFlight).toBe(2)
  expect(line.agrees).toBe(true)
})
