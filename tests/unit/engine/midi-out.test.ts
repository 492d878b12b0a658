import { expect, test } from 'vitest'
import { MidiOut } from '../../../app/engine/midi-out.ts'
import { midiOutput } from '../../support/rig-outputs.ts'

function setUp(isThere = true) {
  const sent: string[] = []
  const out = new MidiOut((bytes) => {
    if (isThere) sent.push(Buffer.from(bytes).toString('hex'))
    return isThere
  })
  return { out, sent }
}

test('it ends exactly the notes it left sounding, by its own account', () => {
  const { out, sent } = setUp()
  out.send(Uint8Array.of(0x90, 60, 100))
  out.send(Uint8Array.of(0x93, 60, 100))
  out.send(Uint8Array.of(0x91, 62, 100))
  out.send(Uint8Array.of(0x91, 62, 0))
  out.send(Uint8Array.of(0x90, 64, 100))
  out.send(Uint8Array.of(0x80, 64, 0))
  out.send(Uint8Array.of(0xe0, 0, 64))
  sent.length = 0
  out.darkNow()
  expect(sent).toEqual(['803c40', '833c40'])
  out.darkNow()
  expect(sent).toHaveLength(2)
})

test('bytes for a port that is not there are counted', () => {
  const { out } = setUp(false)
  out.send(Uint8Array.of(0x90, 60, 100))
  expect(out.dropped).toBe(1)
})

test('after a crash the lamps of an engine before are ended on their channels and keys', () => {
  const one = setUp()
  one.out.recover(midiOutput({ firstChannel: 3 }), [0, 1])
  expect(one.sent).toEqual(['b27800', 'b27b00', 'b37800', 'b37b00'])
  const two = setUp()
  two.out.recover(midiOutput({ layout: 'note-per-lamp', firstChannel: 1, firstNote: 60 }), [0, 2])
  expect(two.sent).toEqual(['b07800', 'b07b00', '803c40', '803e40'])
})
