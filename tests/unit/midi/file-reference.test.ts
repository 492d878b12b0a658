import { parseMidi, writeMidi, type MidiEvent } from 'midi-file'
import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { writeMidiFile } from '../../../src/midi/file-write.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'

/** A channel event of the package midi-file in our words; undefined for what is none. */
function translated(event: MidiEvent): MidiMessage | undefined {
  if (!('channel' in event) || event.type === 'channelPrefix') return undefined
  const channel = event.channel + 1
  switch (event.type) {
    case 'noteOn':
      return { type: 'note-on', channel, key: event.noteNumber, velocity: event.velocity }
    case 'noteOff':
      return { type: 'note-off', channel, key: event.noteNumber, velocity: event.byte9 ? 64 : event.velocity }
    case 'noteAftertouch':
      return {
        type: 'key-pressure',
        channel,
        key: event.noteNumber,
        value: (event as { amount?: number }).amount ?? -1,
      }
    case 'controller':
      return { type: 'controller', channel, controller: event.controllerType, value: event.value }
    case 'programChange':
      return { type: 'program', channel, program: event.programNumber }
    case 'channelAftertouch':
      return { type: 'channel-pressure', channel, value: event.amount }
    default:
      return { type: 'bend', channel, value: event.value + 8192 }
  }
}

/** What the other reader finds, as [tick, message] by track. */
function theirs(bytes: Uint8Array): (readonly [number, MidiMessage])[][] {
  return parseMidi(bytes).tracks.map((events) => {
    let tick = 0
    return events.flatMap((event) => {
      tick += event.deltaTime
      const message = translated(event)
      return message === undefined ? [] : [[tick, message] as const]
    })
  })
}

function ours(bytes: Uint8Array): (readonly [number, MidiMessage])[][] {
  const result = readMidiFile(bytes)
  if (!result.ok) throw new Error(result.error.what)
  return result.file.tracks.map(({ events }) => events.map(({ tick, message }) => [tick, message] as const))
}

describe('read as the package midi-file reads them', () => {
  skipWithoutPerformances()

  test('nine of them are there', () => {
    expect(performancePaths()).toHaveLength(9)
  })

  test.each(performancePaths())('%s', (path) => {
    const bytes = performanceBytes(path)
    const mine = ours(bytes)
    expect(mine).toEqual(theirs(bytes))
    expect(mine.flat().length).toBeGreaterThan(100)
  })
})

describe('the package midi-file and ours', () => {
  const messages: MidiMessage[] = [
    { type: 'note-on', channel: 1, key: 60, velocity: 1 },
    { type: 'key-pressure', channel: 2, key: 60, value: 3 },
    { type: 'controller', channel: 3, controller: 64, value: 127 },
    { type: 'program', channel: 4, program: 5 },
    { type: 'channel-pressure', channel: 5, value: 6 },
    { type: 'bend', channel: 6, value: 0 },
    { type: 'bend', channel: 16, value: 16383 },
    { type: 'note-off', channel: 1, key: 60, velocity: 7 },
  ]

  test('it reads what we write', () => {
    const events = messages.map((message, i) => ({ at: i * 500_000, message }))
    const bytes = writeMidiFile({ division: 24000, tracks: [{ name: 'moss', events }] })
    expect(theirs(bytes)).toEqual([messages.map((message, i) => [i * 24000, message])])
  })

  test.each([false, true])('we read what it writes, running status: %s', (running) => {
    const notes: MidiEvent[] = Array.from({ length: 40 }, (_, i) => ({
      deltaTime: i * 37,
      type: 'noteOn',
      channel: 2,
      noteNumber: i,
      velocity: 100 + (i % 3),
    }))
    const end: MidiEvent = { deltaTime: 1, type: 'endOfTrack', meta: true }
    const header = { format: 0, numTracks: 1, ticksPerBeat: 480 } as const
    const bytes = Uint8Array.from(writeMidi({ header, tracks: [[...notes, end]] }, { running }))
    expect(ours(bytes)).toEqual(theirs(bytes))
    expect(ours(bytes)[0]).toHaveLength(40)
  })
})
