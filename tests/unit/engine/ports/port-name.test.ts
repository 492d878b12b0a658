import { expect, test } from 'vitest'
import { bareName, hasAddress, nameParts, shownName } from '../../../../app/engine/ports/port-name.ts'

// Shapes of names as systems make them; common practice, no source.
test.each([
  ['Keybed', 'Keybed'],
  ['2- Keybed', 'Keybed'],
  ['12- Keybed', 'Keybed'],
  ['2 - Keybed', 'Keybed'],
  ['Keybed 20:0', 'Keybed'],
  ['Keybed:Keybed MIDI 1 20:0', 'Keybed:Keybed MIDI 1'],
  ['Keybed:Keybed MIDI 2 128:15', 'Keybed:Keybed MIDI 2'],
  ['2- Keybed 20:0', 'Keybed'],
  ['  Keybed\t MIDI ', 'Keybed MIDI'],
  ['Player-01:out', 'Player:out'],
  ['bridge:Keybed [20] (capture): Keybed MIDI 1', 'bridge:Keybed (capture): Keybed MIDI 1'],
  ['Cafe\u0301', 'Caf\u00e9'],
  ['鍵盤 24:0', '鍵盤'],
  ['', ''],
  ['   ', ''],
  // Numbers that tell sockets or devices apart stay.
  ['Keybed 2', 'Keybed 2'],
  ['Keybed Port 2', 'Keybed Port 2'],
  ['61-key board', '61-key board'],
  ['IN2 (Keybed)', 'IN2 (Keybed)'],
  ['808-01', '808-01'],
  // Nothing but such numbers: kept, rather than equal to a port without a name.
  ['20:0', '20:0'],
  [' 20:0', '20:0'],
  ['2-', '2-'],
])('"%s" is compared as "%s"', (name, bare) => {
  expect(bareName(name)).toBe(bare)
  expect(bareName(bare)).toBe(bare)
})

test('a name is shown composed and without space around it, numbers and all', () => {
  expect(shownName(' 2- Cafe\u0301 20:0 ')).toBe('2- Caf\u00e9 20:0')
  expect(hasAddress('Keybed 20:0')).toBe(true)
  expect(hasAddress('Keybed 2')).toBe(false)
})

test('client and port are told apart', () => {
  expect(nameParts('Fern-01:out a 20:0')).toEqual(['Fern', 'out a'])
  expect(nameParts('Fern')).toEqual([])
})
