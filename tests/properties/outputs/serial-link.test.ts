import fc from 'fast-check'
import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { anyFrame } from '../../support/arbitrary-frame.ts'
import { darkChange, LinkLine, litChange, type Passage } from '../../support/link-line.ts'
import { checkProperty } from '../../support/property.ts'

/** Time that a good line needs until the box is as the host wants, at the worst: lost, hello, identity, full state. */
const GOOD_AGAIN_MS = 1500

/** What a bad line does to one frame. */
const mishap = fc.oneof(
  { weight: 4, arbitrary: fc.constant({ kind: 'none' as const }) },
  { weight: 2, arbitrary: fc.constant({ kind: 'lost' as const }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('flip' as const), bit: fc.nat(4000) }) },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('late' as const), ms: fc.integer({ min: 1, max: 300 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('noise' as const), bytes: fc.uint8Array({ maxLength: 30 }) }),
  },
)
type Mishap = typeof mishap extends fc.Arbitrary<infer T> ? T : never

const deed = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      kind: fc.constant('set' as const),
      lamps: fc.array(fc.tuple(fc.nat(4), fc.constantFrom(0, 55, 110, 440, 1000)), {
        minLength: 1,
        maxLength: 4,
      }),
    }),
  },
  { weight: 1, arbitrary: fc.constant({ kind: 'dark-all' as const }) },
  { weight: 1, arbitrary: fc.constant({ kind: 'reset' as const }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('replug' as const), ms: fc.nat(900) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('held-up' as const), ms: fc.nat(1200) }) },
)
type Deed = typeof deed extends fc.Arbitrary<infer T> ? T : never

function passage(bytes: Uint8Array, what: Mishap | undefined): Passage {
  switch (what?.kind) {
    case 'lost':
      return { bytes: undefined, delay: 0 }
    case 'flip': {
      const bit = what.bit % (bytes.length * 8)
      return { bytes: bytes.map((byte, at) => (at === bit >> 3 ? byte ^ (1 << (bit & 7)) : byte)), delay: 0 }
    }
    case 'late':
      return { bytes, delay: what.ms * 1000 }
    case 'noise':
      return { bytes: Uint8Array.of(...bytes, ...what.bytes), delay: 0 }
    default:
      return { bytes, delay: 0 }
  }
}

function act(line: LinkLine, what: Deed): void {
  switch (what.kind) {
    case 'set':
      return line.set(
        ...what.lamps.map(([index, hz]) => (hz === 0 ? darkChange(index) : litChange(index, hz))),
      )
    case 'dark-all':
      return line.darkAll()
    case 'reset':
      return line.box.reset()
    case 'replug':
      line.closed()
      line.run(what.ms)
      line.box.reset()
      return line.open()
    case 'held-up':
      return line.timers.skip(what.ms * 1000)
  }
}

test('whatever a line did, once it is good the box is as the host wants within bounded time', () => {
  checkProperty(
    'bad line',
    fc.property(
      fc.array(mishap, { minLength: 1, maxLength: 40 }),
      fc.array(mishap, { minLength: 1, maxLength: 40 }),
      fc.array(fc.tuple(fc.nat(250), deed), { maxLength: 25 }),
      fc.constantFrom(0, 0, 400),
      fc.constantFrom(0, 3),
      (there, back, deeds, bootMs, writeMs) => {
        let isBad = true
        const way = (mishaps: readonly Mishap[]) => {
          let at = 0
          return (bytes: Uint8Array) => passage(bytes, isBad ? mishaps[at++ % mishaps.length] : undefined)
        }
        const line = new LinkLine({
          lamps: 5,
          box: { bootMs },
          toBox: way(there),
          toHost: way(back),
          writeMicros: () => writeMs * 1000,
        })
        line.open()
        for (const [ms, what] of deeds) {
          line.run(ms)
          act(line, what)
        }
        isBad = false
        line.run(GOOD_AGAIN_MS + bootMs)
        expect(line.state.phase).toBe('ready')
        expect(line.agrees).toBe(true)
        expect(line.mostSetsInFlight).toBeLessThanOrEqual(2)
        expect(line.mostWaiting).toBeLessThanOrEqual(2)
        // And stays so.
        line.run(1000)
        expect(line.agrees).toBe(true)
      },
    ),
  )
})

test('bytes of any kind from the box never throw, and what is kept of them is bounded', () => {
  const bytes = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc.uint8Array({ minLength: 3000, maxLength: 4000 }).map((all) => all.map((byte) => byte || 1)),
    anyFrame.map(encodeFrame),
    fc
      .array(anyFrame, { maxLength: 20 })
      .map((frames) => Uint8Array.from(frames.flatMap((one) => [...encodeFrame(one)]))),
  )
  checkProperty(
    'bytes from the box',
    fc.property(fc.array(fc.tuple(fc.nat(200), bytes), { maxLength: 12 }), (pieces) => {
      const line = new LinkLine({ lamps: 5 })
      line.open()
      for (const [ms, piece] of pieces) {
        line.set(litChange(ms % 5, 100 + ms))
        line.run(ms)
        line.tell({ kind: 'bytes', bytes: piece })
      }
      // 1,024 bytes of a block as JSON, and the rest of the state.
      expect(line.largestState).toBeLessThan(12_000)
      expect(line.mostSetsInFlight).toBeLessThanOrEqual(2)
    }),
  )
})

test('every single wrong bit of a set frame, there and of its reply: the box is as the host wants soon after', () => {
  const probe = new LinkLine({ lamps: 2 })
  probe.open()
  probe.run(20)
  probe.set(litChange(0, 440))
  const frame = probe.written.at(-1)?.frame
  const bits = frame ? encodeFrame(frame).length * 8 : 0
  expect(bits).toBeGreaterThan(100)
  for (const side of ['toBox', 'toHost'] as const) {
    for (let bit = 0; bit < (side === 'toBox' ? bits : 96); bit++) {
      let isBad = false
      const line = new LinkLine({
        lamps: 2,
        [side]: (bytes: Uint8Array) => {
          const what = passage(bytes, isBad ? { kind: 'flip', bit } : undefined)
          isBad = false
          return what
        },
      })
      line.open()
      line.run(20)
      isBad = true
      line.set(litChange(0, 440))
      line.run(5)
      // A frame that is wrong on the way there is refused; one that is wrong on the way back has done its work.
      expect(line.box.lamps()[0]?.on, `${side}, bit ${bit}`).toBe(side === 'toHost')
      line.run(350)
      expect(line.agrees, `${side}, bit ${bit}`).toBe(true)
      expect(line.state.phase).toBe('ready')
    }
  }
})

test('1,000 changes a second into a port that takes 10 ms a write, for 10 s: flat, two wait at most, the last state is right', () => {
  const line = new LinkLine({ lamps: 4, writeMicros: () => 10_000 })
  line.open()
  line.run(100)
  for (let time = 0; time < 10_000; time++) {
    line.set(
      time % 7 === 0 ? darkChange(time % 4) : litChange(time % 4, 100 + (time % 900), 0.1 + (time % 5) / 10),
    )
    line.run(1)
  }
  const { largestState } = line
  line.run(100)
  expect(line.agrees).toBe(true)
  expect(line.mostWaiting).toBeLessThanOrEqual(2)
  expect(line.mostSetsInFlight).toBe(2)
  expect(largestState).toBeLessThan(4000)
  // Each write takes 10 ms, so some 1,000 frames stand for the 10,000 changes.
  const sets = line.written.filter(({ frame }) => frame.type === 'set').length
  expect(sets).toBeGreaterThan(500)
  expect(sets).toBeLessThan(1010)
  expect(line.outOf('state').map(({ state }) => state)).toEqual(['greeting', 'ready'])
})
