import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import type { ReplyStatus } from '../../../src/outputs/serial-frame.ts'
import { LinkLine, litChange } from '../../support/link-line.ts'

const sets = (line: LinkLine) => line.written.flatMap(({ frame }) => (frame.type === 'set' ? [frame] : []))

function ready(lamps: number, more: ConstructorParameters<typeof LinkLine>[0]['box'] = {}): LinkLine {
  const line = new LinkLine({ lamps, box: more })
  line.open()
  line.run(50)
  line.written.length = 0
  line.out.length = 0
  return line
}

test('a lamp that the box refuses is counted and not sent for ever; the others of its frame are sent alone', () => {
  // 4 bits and no prescaler: nothing under clock / 16 can be made.
  const line = ready(3, { timer: { clockHz: 160_000, prescalers: [1], bits: 4 } })
  const possible = 20_000
  line.set(litChange(0, possible), litChange(1, 100), litChange(2, possible))
  line.run(1000)
  expect(line.outOf('count').map(({ what }) => what)).toEqual(['refused', 'refused'])
  expect(sets(line).map(({ lamps }) => lamps.map(({ slot }) => slot))).toEqual([[0, 1, 2], [0], [1], [2]])
  expect(line.box.lamps().map(({ on }) => on)).toEqual([true, false, true])
  line.set(litChange(1, possible))
  line.run(50)
  expect(line.agrees).toBe(true)
})

test.each<[ReplyStatus, string]>([
  ['late', 'late'],
  ['refused', 'refused'],
  ['no-such-slot', 'no-slot'],
])('a reply that says %s is counted as %s, and frees its place', (status, what) => {
  let isMute = false
  const line = new LinkLine({
    lamps: 1,
    toHost: (bytes) => ({ bytes: isMute ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.run(50)
  line.written.length = 0
  line.out.length = 0
  isMute = true
  line.set(litChange(0, 100))
  const [set] = sets(line)
  const sequence = ((line.state.boxSequence ?? 0) + 1) % 256
  const bytes = encodeFrame({ type: 'reply', sequence, answers: set?.sequence ?? -1, status, micros: 1 })
  line.tell({ kind: 'bytes', bytes })
  expect(line.outOf('count')).toEqual([{ kind: 'count', what, sequence: set?.sequence }])
  expect(line.state.flights.filter(({ type }) => type === 'set')).toEqual([])
  line.run(500)
  expect(sets(line)).toHaveLength(1)
})

test('what is no frame of a box is counted and passed over: unknown types, the host’s own, damage', () => {
  const line = ready(1)
  line.tell({ kind: 'bytes', bytes: encodeFrame({ type: 'dark', sequence: 3 }) })
  line.tell({ kind: 'bytes', bytes: Uint8Array.of(3, 9, 9, 0) })
  // Type 90h, sequence 1, with a CRC that is right.
  line.tell({ kind: 'bytes', bytes: Uint8Array.of(5, 0x90, 0x01, 0xc5, 0x15, 0) })
  expect(line.outOf('count').map(({ what }) => what)).toEqual(['damaged', 'damaged', 'damaged'])
})

test('a box that begins anew without a word gets the full state within 300 ms', () => {
  const line = ready(2)
  line.set(litChange(0, 440), litChange(1, 550))
  line.run(50)
  line.box.reset()
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
  line.run(300)
  expect(line.agrees).toBe(true)
  expect(line.outOf('state')).toEqual([])
})

test('a box that begins anew and says so gets the full state at once', () => {
  const line = ready(2, { announces: true })
  line.set(litChange(0, 440), litChange(1, 550))
  line.run(50)
  line.box.reset()
  line.run(5)
  expect(line.agrees).toBe(true)
  expect(line.outOf('identity')).toEqual([])
})

test('a box whose count is never right is not answered with a full state each time', () => {
  const line = new LinkLine({ lamps: 2 })
  line.open()
  line.run(20)
  line.written.length = 0
  for (let time = 0; time < 100; time++) {
    line.tell({
      kind: 'bytes',
      bytes: encodeFrame({ type: 'reply', sequence: 7, answers: 200, status: 'done', micros: 0 }),
    })
    line.run(10)
  }
  expect(sets(line).length).toBeLessThanOrEqual(11)
  expect(line.agrees).toBe(true)
})
