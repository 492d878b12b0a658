import { setTimeout as pause } from 'node:timers/promises'
import { SerialPort } from 'serialport'
import { expect, onTestFinished, test } from 'vitest'
import { encodeFrame } from '../../src/outputs/frame-wire.ts'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../src/outputs/serial-decoder.ts'
import type { HostFrame, SerialFrame } from '../../src/outputs/serial-frame.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { startLampBox } from '../support/lamp-box-firmware.ts'
import { lamp, setFrame } from '../support/lamp-box-script.ts'
import { edgesOf, levelAt, rateOf } from '../support/pin-edges.ts'
import { TIMER_16MHZ } from '../support/rig-outputs.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

async function until(what: string, done: () => boolean): Promise<void> {
  const end = performance.now() + 10_000
  while (!done()) {
    if (performance.now() > end) throw new Error(`not within 10 s: ${what}`)
    await pause(5)
  }
}

test('over a pty with serialport: hello, a chord, its rates on the pins, dark', REAL_PROCESSES, async () => {
  const box = await startLampBox()
  onTestFinished(() => box.stop())
  const port = new SerialPort({ path: box.pty, baudRate: 500_000, autoOpen: false })
  await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())))
  onTestFinished(() => new Promise<void>((resolve) => port.close(() => resolve())))

  const got: SerialFrame[] = []
  let state = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  port.on('data', (bytes: Uint8Array) => {
    const step = serialDecoder.step(state, { kind: 'bytes', bytes }, 0)
    state = step.state
    for (const one of step.out) if (one.kind === 'frame') got.push(one.frame)
  })
  const send = (frame: HostFrame) => port.write(encodeFrame(frame))
  const answered = (sequence: number) =>
    until(`an answer to ${sequence}`, () =>
      got.some((frame) => frame.type === 'reply' && frame.answers === sequence),
    )

  // The firmware needs some ms from its reset until it listens.
  await until('an identity', () => {
    send({ type: 'hello', sequence: 0, version: 1 })
    return got.some((frame) => frame.type === 'identity')
  })
  const chord = [28, 45, 60, 69].map((note) => 440 * 2 ** ((note - 69) / 12))
  send(
    setFrame(
      1,
      chord.map((hz, slot) => lamp(slot, hz)),
    ),
  )
  await answered(1)
  await until('ten low periods', () => {
    send({ type: 'beat', sequence: 200, micros: 0 })
    return edgesOf(box.pins(), 0).length > 22
  })
  const from = edgesOf(box.pins(), 0)[1]?.cycle
  for (const [slot, hz] of chord.entries()) {
    const real = quantiseToTimer(hz, TIMER_16MHZ)?.realHz ?? 0
    expect(Math.abs(1200 * Math.log2(rateOf(box.pins(), slot, from) / real))).toBeLessThan(0.2)
  }
  send({ type: 'dark', sequence: 2 })
  await answered(2)
  const dark = box.pins().length
  for (const slot of [0, 1, 2, 3]) expect(levelAt(box.pins(), slot, Infinity)).toBe(0)
  send({ type: 'beat', sequence: 3, micros: 0 })
  await answered(3)
  expect(box.pins()).toHaveLength(dark)
})
