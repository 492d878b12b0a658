import fc from 'fast-check'
import { expect, test } from 'vitest'
import { DARK } from '../../../src/domain/lamp-state.ts'
import { encoderFor } from '../../../src/outputs/encoder.ts'
import type { EncoderEvent } from '../../../src/outputs/encoder-event.ts'
import { decodeFrame } from '../../../src/outputs/frame-wire.ts'
import { quantise } from '../../../src/tuning/quantise.ts'
import { checkProperty } from '../../support/property.ts'
import { lampsInSlots, lit, WIRE } from '../../support/rig-outputs.ts'

const LAMPS = 40
const wish = fc.record({
  index: fc.nat(LAMPS - 1),
  hz: fc.oneof(fc.constant(0), fc.double({ min: 20, max: 4200, noNaN: true })),
  duty: fc.double({ min: 0.01, max: 1, noNaN: true }),
})
const moment = fc.oneof(
  { weight: 8, arbitrary: fc.array(wish, { maxLength: 60 }) },
  { weight: 1, arbitrary: fc.constantFrom('open' as const, 'dark-all' as const, 'beat' as const) },
)

test('a lamp box that does as it is told has every lamp as it should be, and is numbered without a gap', () => {
  checkProperty(
    'serial lamps',
    fc.property(fc.array(moment, { maxLength: 8 }), (moments) => {
      const encoder = encoderFor(WIRE)
      const box = new Map<number, string>()
      const wanted = new Map<number, string>()
      let sequence = 0
      let state = encoder.start({ output: WIRE, lamps: lampsInSlots(LAMPS) })
      const send = (event: EncoderEvent) => {
        const step = encoder.step(state, event, 0)
        state = JSON.parse(JSON.stringify(step.state))
        for (const one of step.out) {
          const frame = one.kind === 'bytes' ? decodeFrame(one.bytes.subarray(0, -1)) : 'payload'
          if (typeof frame === 'string') throw new Error(`damaged: ${frame}`)
          expect(frame.sequence).toBe(sequence++ % 256)
          if (frame.type === 'dark') box.clear()
          if (frame.type !== 'set') continue
          for (const { slot, rate, duty } of frame.lamps) {
            if (rate === 0) box.delete(slot)
            else box.set(slot, `${rate} ${duty}`)
          }
        }
      }
      for (const one of moments) {
        if (typeof one === 'string') {
          send({ kind: one })
          if (one === 'dark-all') wanted.clear()
        } else {
          const changes = one.map(({ index, hz, duty }) => {
            const made = quantise(hz, WIRE, index)
            if (made) wanted.set(index, `${Math.round(hz * 65536)} ${Math.round(duty * 65535)}`)
            else wanted.delete(index)
            return { lamp: `lamp-${index}`, index, state: made ? lit({ ...made, hz, duty }) : DARK }
          })
          send({ kind: 'changes', changes })
        }
        expect(box).toEqual(wanted)
      }
    }),
  )
})
