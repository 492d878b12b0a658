import { expect, test } from 'vitest'
import { VirtualBox, type VirtualBoxWiring } from '../../../../app/engine/virtual-box/virtual-box.ts'
import { encodeFrame } from '../../../../src/outputs/frame-wire.ts'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../../../src/outputs/serial-decoder.ts'
import type { BoxFrame, HostFrame, SerialFrame } from '../../../../src/outputs/serial-frame.ts'
import { dutyToTicks } from '../../../../src/tuning/duty-ticks.ts'
import { quantiseToTimer } from '../../../../src/tuning/timer.ts'
import { TIMER_16MHZ } from '../../../support/rig-outputs.ts'
import { VirtualTimers } from '../../../support/virtual-timers.ts'

function boxed(more: Partial<VirtualBoxWiring> = {}) {
  const timers = new VirtualTimers()
  const said: BoxFrame[] = []
  const box = new VirtualBox({
    lamps: 4,
    ...more,
    timers,
    send: (bytes) => {
      const { out } = serialDecoder.step(
        serialDecoder.start(SERIAL_DECODER_DEFAULTS),
        { kind: 'bytes', bytes },
        0,
      )
      for (const one of out) if (one.kind === 'frame') said.push(one.frame as BoxFrame)
    },
  })
  const tell = (frame: SerialFrame) => {
    box.receive(encodeFrame(frame))
    return said.at(-1)
  }
  return { timers, said, box, tell }
}
const set = (hz: number, at = 0, slot = 0, duty = 32768): HostFrame => ({
  type: 'set',
  sequence: 5,
  at,
  lamps: [{ slot, rate: Math.round(hz * 65536), duty }],
})
const beat: HostFrame = { type: 'beat', sequence: 9, micros: 1 }

test('hello is answered by who it is', () => {
  expect(boxed().tell({ type: 'hello', sequence: 3, version: 1 })).toEqual({
    type: 'identity',
    sequence: 0,
    version: 1,
    lamps: 4,
    clockHz: 16_000_000,
    bits: 16,
    prescalers: [1, 8, 64, 256, 1024],
  })
  expect(boxed({ lamps: 256 }).tell({ type: 'hello', sequence: 3, version: 1 })).toMatchObject({ lamps: 0 })
  expect(() => boxed({ lamps: 257 })).toThrow(RangeError)
})

test('every other frame is answered by a reply, counted from 0, with the box’s own microseconds', () => {
  const { tell, timers } = boxed()
  timers.run(70)
  expect(tell(beat)).toEqual({ type: 'reply', sequence: 0, answers: 9, status: 'done', micros: 70 })
  expect(tell({ type: 'dark', sequence: 10 })).toMatchObject({ sequence: 1, answers: 10, status: 'done' })
  expect(tell(set(440))).toMatchObject({ sequence: 2, answers: 5, status: 'done' })
})

test('a lamp does what the timer makes of its rate and duty', () => {
  const { box, tell } = boxed()
  tell(set(440, 0, 1, 16384))
  const made = quantiseToTimer(440, TIMER_16MHZ)
  const top = made?.drive.top ?? 0
  expect(box.lamps()[1]).toEqual({
    on: true,
    hz: made?.realHz,
    duty: dutyToTicks(16384 / 65535, top) / (top + 1),
    rate: 440 * 65536,
    duty16: 16384,
    prescaler: made?.drive.prescaler,
    top,
    ticksOn: dutyToTicks(16384 / 65535, top),
  })
  expect(box.lamps()[1]?.hz).toBeCloseTo(16e6 / 36364, 9)
  tell(set(0, 0, 1))
  expect(box.lamps()[1]).toMatchObject({ on: false, hz: 0 })
})

test('of a set with a slot it has not, or a rate it cannot make, nothing is taken', () => {
  const { box, tell } = boxed()
  const lamps = [{ slot: 0, rate: 440 * 65536, duty: 1000 }]
  const bad = (slot: number, rate: number) =>
    tell({ type: 'set', sequence: 1, at: 0, lamps: [...lamps, { slot, rate, duty: 5 }] })
  expect(bad(4, 440 * 65536)).toMatchObject({ status: 'no-such-slot' })
  expect(bad(1, 1)).toMatchObject({ status: 'refused' })
  expect(box.lamps().some(({ on }) => on)).toBe(false)
})

test('a set for later is done later; one whose time has passed is done at once, and late', () => {
  const { box, tell, timers } = boxed()
  timers.run(1000)
  expect(tell(set(440, 31_000))).toMatchObject({ status: 'done' })
  timers.run(29_999)
  expect(box.lamps()[0]?.on).toBe(false)
  timers.run(1)
  expect(box.lamps()[0]?.on).toBe(true)
  expect(tell(set(220, 30_000))).toMatchObject({ status: 'late' })
  expect(box.lamps()[0]?.rate).toBe(220 * 65536)
})

test('dark, hello and the watchdog forget what was to be set later; more than it can hold is refused', () => {
  const { box, tell, timers } = boxed({ mostScheduled: 2 })
  for (const forget of [
    { type: 'dark', sequence: 1 },
    { type: 'hello', sequence: 1, version: 1 },
  ] as const) {
    const at = timers.now() - 1_000_000 + 1000
    tell(set(440, at))
    tell(forget)
    timers.run(2000)
    expect(box.lamps()[0]?.on).toBe(false)
  }
  const at = timers.now() - 1_000_000 + 600_000
  expect([tell(set(440, at)), tell(set(441, at)), tell(set(442, at))]).toMatchObject([
    { status: 'done' },
    { status: 'done' },
    { status: 'refused' },
  ])
  timers.run(700_000)
  expect(box.lamps()[0]?.on).toBe(false)
})

test('without a valid frame for 500 ms it goes dark until the next set; a beat keeps it lit and does not relight it', () => {
  const { box, tell, timers } = boxed()
  tell(set(440))
  timers.run(499_000)
  tell(beat)
  timers.run(499_999)
  expect(box.lamps()[0]?.on).toBe(true)
  box.receive(Uint8Array.of(9, 9, 9, 0))
  timers.run(1)
  expect(box.lamps()[0]?.on).toBe(false)
  tell(beat)
  expect(box.lamps()[0]?.on).toBe(false)
  tell(set(440))
  expect(box.lamps()[0]?.on).toBe(true)
})

test('damage and frames of a box are dropped; a strange frame whose CRC is right is refused', () => {
  const { box, said, tell } = boxed()
  tell({ type: 'reply', sequence: 1, answers: 1, status: 'done', micros: 1 })
  box.receive(Uint8Array.of(4, 1, 2, 3, 0))
  expect(said).toEqual([])
  expect(box.damaged).toBe(2)
  // A dark frame, sequence 7, with a body of AAh; first with a CRC that is wrong.
  box.receive(Uint8Array.of(6, 0x03, 0x07, 0xaa, 0xfa, 0x18, 0))
  expect([box.damaged, said.length]).toEqual([3, 0])
  box.receive(Uint8Array.of(6, 0x03, 0x07, 0xaa, 0xfb, 0x18, 0))
  expect(said).toMatchObject([{ type: 'reply', answers: 7, status: 'refused' }])
})

test('while it starts it hears nothing, and then says who it is where it is one of those that do', () => {
  const { box, said, tell, timers } = boxed({ bootMs: 1500, announces: true })
  tell({ type: 'hello', sequence: 0, version: 1 })
  timers.run(1_499_999)
  expect(said).toEqual([])
  timers.run(1)
  expect(said).toMatchObject([{ type: 'identity', sequence: 0 }])
  tell(set(440))
  box.reset()
  expect(box.lamps()[0]?.on).toBe(false)
  tell(set(440))
  expect(box.lamps()[0]?.on).toBe(false)
})

test('changes of lamps are told, each once', () => {
  const changes: string[] = []
  const { tell } = boxed({
    onChange: (slot, { on, rate }) => changes.push(`${slot} ${on ? rate / 65536 : 'dark'}`),
  })
  tell(set(440))
  tell(set(440))
  tell(set(220, 0, 2))
  tell({ type: 'dark', sequence: 0 })
  expect(changes).toEqual(['0 440', '2 220', '0 dark', '2 dark'])
})
