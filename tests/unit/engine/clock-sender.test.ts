import { expect, test } from 'vitest'
import { ClockSender } from '../../../app/engine/clock-sender.ts'

function sender(follows: boolean) {
  const sent: string[] = []
  const send = (port: number, bytes: Uint8Array): void => void sent.push(`${port}: ${[...bytes].join(' ')}`)
  return { sent, clock: new ClockSender({ ports: 2, follows, send }) }
}

test('a clock that is followed goes on to every port, message by message, and nothing of our own does', () => {
  const { sent, clock } = sender(true)
  clock.tell({ kind: 'found', port: 0 }, 0)
  clock.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
  clock.advance(1_000_000)
  expect(clock.nextDue).toBe(Infinity)
  expect(sent).toEqual([])
  // MIDI 1.0 Detailed Specification: Song Position, Continue, Timing Clock, Stop, Start; a note, Active Sensing and System Reset are no clock's.
  const heard = [[0xf2, 5, 1], [0xfb], [0xf8], [0x90, 60, 100], [0xfe], [0xff], [0xfc], [0xfa], []]
  for (const bytes of heard) clock.pass(Uint8Array.from(bytes))
  const words = ['242 5 1', '251', '248', '252', '250']
  expect(sent).toEqual(words.flatMap((word) => [`0: ${word}`, `1: ${word}`]))
  clock.close(2_000_000)
  expect(sent.slice(-2)).toEqual(['0: 252', '1: 252'])
})

test('where none is followed nothing is passed on, and only ports that are there are sent ours', () => {
  const { sent, clock } = sender(false)
  clock.pass(Uint8Array.of(0xf8))
  clock.tell({ kind: 'found', port: 1 }, 0)
  clock.tell({ kind: 'start', tempo: 120, bar: 4 }, 0)
  clock.advance(0)
  expect(sent).toEqual(['1: 250'])
  expect(clock.nextDue).toBe(1_000)
  clock.advance(999)
  clock.advance(1_000)
  expect(sent).toEqual(['1: 250', '1: 248'])
  clock.close(1_500)
  expect(sent).toEqual(['1: 250', '1: 248', '1: 252'])
  expect(clock.nextDue).toBe(Infinity)
})
