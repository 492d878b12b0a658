import fc from 'fast-check'
import type { MidiMessage } from '../../src/domain/midi-message.ts'

const channel = fc.integer({ min: 1, max: 16 })
const seven = fc.integer({ min: 0, max: 127 })
const fourteen = fc.integer({ min: 0, max: 0x3fff })
const only = <T extends string>(type: T): fc.Arbitrary<T> => fc.constant(type)

/** Every message that has bytes of its own; not `parameter`, which is several controllers. */
export const anyMessage: fc.Arbitrary<MidiMessage> = fc.oneof(
  fc.record({ type: only('note-on'), channel, key: seven, velocity: fc.integer({ min: 1, max: 127 }) }),
  fc.record({ type: only('note-off'), channel, key: seven, velocity: seven }),
  fc.record({ type: only('key-pressure'), channel, key: seven, value: seven }),
  fc.record({ type: only('controller'), channel, controller: seven, value: seven }),
  fc.record({ type: only('program'), channel, program: seven }),
  fc.record({ type: only('channel-pressure'), channel, value: seven }),
  fc.record({ type: only('bend'), channel, value: fourteen }),
  fc.record({ type: only('sysex'), data: fc.array(seven, { maxLength: 20 }) }),
  fc.record({ type: only('quarter-frame'), value: seven }),
  fc.record({ type: only('song-position'), position: fourteen }),
  fc.record({ type: only('song-select'), song: seven }),
  fc.constantFrom<MidiMessage>(
    { type: 'tune-request' },
    { type: 'clock' },
    { type: 'start' },
    { type: 'continue' },
    { type: 'stop' },
    { type: 'active-sensing' },
    { type: 'reset' },
  ),
)
