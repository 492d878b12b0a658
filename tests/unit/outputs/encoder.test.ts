import { expect, test } from 'vitest'
import { encoderFor } from '../../../src/outputs/encoder.ts'
import { change, lampsInSlots, lit, midiOutput, WIRE } from '../../support/rig-outputs.ts'

const BENT = lit({ drive: { kind: 'bend', key: 69, bend: 8192 } })
const TIMED = lit({ drive: { kind: 'timer', rate: 440 * 65536, prescaler: 1, top: 36363 } })

test.each([
  [WIRE, TIMED, ['bytes']],
  [midiOutput(), BENT, ['bend 1', 'note-on 1']],
  [midiOutput({ layout: 'mpe' }), BENT, ['bend 2', 'note-on 2']],
  [midiOutput({ layout: 'note-per-lamp', firstChannel: 5 }), BENT, ['note-on 5']],
])('an output gets the stage of its kind and layout', (output, state, expected) => {
  const encoder = encoderFor(output)
  expect(encoder.name).toBe(`encoder ${output.id}`)
  const started = encoder.start({ output, lamps: lampsInSlots(1) })
  const { out } = encoder.step(started, { kind: 'changes', changes: [change(0, state)] }, 0)
  const seen = out.map((one) =>
    one.kind === 'message' && 'channel' in one.message
      ? `${one.message.type} ${one.message.channel}`
      : one.kind,
  )
  expect(seen).toEqual(expected)
})
