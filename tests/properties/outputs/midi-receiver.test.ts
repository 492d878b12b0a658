import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bentKeyToHz } from '../../../src/domain/bent-key.ts'
import { DARK, type LampState } from '../../../src/domain/lamp-state.ts'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { MidiLayout } from '../../../src/domain/rig.ts'
import { encoderFor } from '../../../src/outputs/encoder.ts'
import type { EncoderEvent } from '../../../src/outputs/encoder-event.ts'
import { quantise } from '../../../src/tuning/quantise.ts'
import { MidiReceiver } from '../../support/midi-receiver.ts'
import { checkProperty } from '../../support/property.ts'
import { lampsInSlots, lit, midiOutput } from '../../support/rig-outputs.ts'

const LAMPS = 4

const wish = fc.record({
  index: fc.nat(LAMPS - 1),
  on: fc.boolean(),
  key: fc.double({ min: 30, max: 100, noNaN: true }),
  duty: fc.double({ min: 0, max: 1, noNaN: true }),
  strike: fc.boolean(),
})
const moment = fc.oneof(
  { weight: 8, arbitrary: fc.array(wish, { maxLength: 6 }) },
  { weight: 1, arbitrary: fc.constantFrom('open' as const, 'dark-all' as const, 'close' as const) },
)
const layouts: fc.Arbitrary<MidiLayout> = fc.constantFrom('channel-per-lamp', 'mpe', 'note-per-lamp')
const ranges = fc.constantFrom(1, 2, 5, 12, 24, 48)
const bits = fc.constantFrom(7, 8, 11, 14)

test('never two keys on a lamp, offs first, the reported pitch sounds, and nothing is left after the end', () => {
  checkProperty(
    'MIDI receiver',
    fc.property(
      layouts,
      ranges,
      bits,
      fc.array(moment, { maxLength: 12 }),
      (layout, bendRange, bendBits, moments) => {
        const output = midiOutput({ layout, bendRange, bendBits, dutyController: 74 })
        const encoder = encoderFor(output)
        const receiver = new MidiReceiver()
        const lamps = new Map<number, LampState>()
        let state = encoder.start({ output, lamps: lampsInSlots(LAMPS) })
        const send = (event: EncoderEvent) => {
          const before = JSON.stringify(state)
          const step = encoder.step(state, event, 0)
          expect(JSON.stringify(state)).toBe(before)
          state = JSON.parse(JSON.stringify(step.state))
          receiver.take(step.out)
          if (event.kind === 'dark-all' || event.kind === 'close') lamps.clear()
        }
        for (const one of moments) {
          if (typeof one === 'string') send({ kind: one })
          else {
            const changes = one.map(({ index, on, key, duty, strike }) => {
              const hz = midiKeyToHz(key)
              const made = quantise(hz, output, index)
              const next = on && made ? lit({ ...made, hz, duty, strike, velocity: 1 + index }) : DARK
              lamps.set(index, next)
              return { lamp: `lamp-${index}`, index, state: next }
            })
            send({ kind: 'changes', changes })
          }
          const litNow = [...lamps.values()].filter((lamp) => lamp.on).length
          expect(receiver.all()).toHaveLength(litNow)
          if (layout === 'note-per-lamp') continue
          for (const [index, lamp] of lamps) {
            const channel = (layout === 'mpe' ? 2 : 1) + index
            const keys = receiver.down(channel)
            expect(keys).toHaveLength(lamp.on ? 1 : 0)
            if (!lamp.on) continue
            const sounds = bentKeyToHz(keys[0] ?? -1, receiver.bends.get(channel) ?? -1, bendRange)
            expect(Math.abs(centsBetween(sounds, lamp.realHz))).toBeLessThanOrEqual(1e-6)
          }
        }
        send({ kind: 'close' })
        expect(receiver.all()).toEqual([])
      },
    ),
  )
})
