import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { decodeMessage } from '../../../src/midi/decode-message.ts'
import { encode } from '../../../src/midi/encode.ts'
import { parameters } from '../../../src/midi/parameters.ts'
import { decodePieces } from '../../support/decoding.ts'
import { anyMessage } from '../../support/message-arbitrary.ts'
import { checkProperty } from '../../support/property.ts'

test('any messages come back from their bytes, as a stream and one by one', () => {
  checkProperty(
    'encode, decode',
    fc.property(fc.array(anyMessage, { maxLength: 20 }), (messages) => {
      expect(decodePieces([messages.flatMap(encode)])).toEqual(messages)
      expect(messages.map((message) => decodeMessage(encode(message)))).toEqual(messages)
    }),
  )
})

test('any parameter comes back from its controllers', () => {
  checkProperty(
    'parameter: encode, decode',
    fc.property(
      fc.boolean(),
      fc.integer({ min: 1, max: 16 }),
      fc.integer({ min: 0, max: 0x3ffe }),
      fc.integer({ min: 0, max: 0x3fff }),
      (registered, channel, parameter, value) => {
        const message = { type: 'parameter', registered, channel, parameter, value } as const
        let state = parameters.start()
        const out: MidiMessage[] = []
        for (const controller of decodePieces([encode(message)]) as MidiMessage[]) {
          const step = parameters.step(state, controller, 0)
          state = step.state
          out.push(...step.out)
        }
        expect(out.findLast(({ type }) => type === 'parameter')).toEqual(message)
      },
    ),
  )
})
