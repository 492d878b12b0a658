import { afterAll, beforeAll, expect, test } from 'vitest'
import { realMidi } from '../../../app/engine/ports/midi-real.ts'
import type { MidiSystem } from '../../../app/engine/ports/midi-system.ts'
import { connected, startJackMidi } from '../../support/jack-midi.ts'
import type { JackMidi } from '../../support/jack-midi.ts'
import { eventually } from '../../support/eventually.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'

let jack: JackMidi
let ours: MidiSystem
let world: MidiSystem

beforeAll(async () => {
  jack = await startJackMidi()
  ours = realMidi(jack.load)
  world = realMidi(jack.load)
})

afterAll(async () => {
  ours.close()
  world.close()
  await jack.stop()
})

test('another program’s virtual ports are listed, our own are not', REAL_PROCESSES, () => {
  const fern = world.openVirtualOutput?.('Fern out')
  const moss = world.openVirtualInput?.('Mööß in', () => {})
  const own = ours.openVirtualOutput?.('Own out')
  expect(ours.inputs().filter((name) => name.includes('Fern out'))).toHaveLength(1)
  expect(ours.outputs().filter((name) => name.includes('Mööß in'))).toHaveLength(1)
  expect(ours.inputs().filter((name) => name.includes('Own out'))).toEqual([])
  expect(world.inputs().filter((name) => name.includes('Own out'))).toHaveLength(1)

  const before = ours.outputs()
  const input = ours.openInput(
    ours.inputs().findIndex((name) => name.includes('Fern out')),
    () => {},
  )
  expect(ours.outputs()).toEqual(before)
  input.close()
  for (const port of [fern, moss, own]) port?.close()
  expect(ours.inputs().filter((name) => name.includes('Fern out'))).toEqual([])
  expect(world.inputs().filter((name) => name.includes('Own out'))).toEqual([])
})

test(
  'notes, clock, active sensing and 300 bytes of system exclusive pass whole and in order, both ways',
  REAL_PROCESSES,
  async () => {
    const exclusive = Uint8Array.from([0xf0, 0x7d, ...Array.from({ length: 297 }, (_, at) => at % 128), 0xf7])
    const messages = [[0x90, 60, 100], [0xf8], [0xfe], exclusive, [0xe3, 1, 64], [0x80, 60, 0]].map(
      (bytes) => [...bytes],
    )
    const port = world.openVirtualOutput?.('Fern out')
    const heard: number[][] = []
    ours.openInput(
      ours.inputs().findIndex((name) => name.includes('Fern out')),
      (bytes) => heard.push([...bytes]),
    )
    await connected()
    for (const bytes of messages) port?.send(Uint8Array.from(bytes))
    await eventually(() => heard.length >= messages.length)
    expect(heard).toEqual(messages)

    const back: number[][] = []
    world.openVirtualInput?.('Moss in', (bytes) => back.push([...bytes]))
    const out = ours.openOutput(ours.outputs().findIndex((name) => name.includes('Moss in')))
    await connected()
    for (const bytes of messages) out.send(Uint8Array.from(bytes))
    out.close() // at once: what was sent must still leave
    await eventually(() => back.length >= messages.length)
    expect(back).toEqual(messages)
  },
)

test(
  'an input may be closed from within its own message, and hears nothing after it',
  REAL_PROCESSES,
  async () => {
    const port = world.openVirtualOutput?.('Reed out')
    const heard: number[] = []
    const input = ours.openInput(
      ours.inputs().findIndex((name) => name.includes('Reed out')),
      (bytes) => {
        heard.push(bytes[1] ?? -1)
        input.close()
      },
    )
    const other: number[] = []
    ours.openInput(
      ours.inputs().findIndex((name) => name.includes('Reed out')),
      (bytes) => other.push(bytes[1] ?? -1),
    )
    await connected()
    for (const key of [1, 2, 3]) port?.send(Uint8Array.of(0x90, key, 1))
    // The two hear on threads of their own.
    await eventually(() => other.length >= 3 && heard.length > 0)
    expect(other).toEqual([1, 2, 3])
    expect(heard).toEqual([1])
  },
)

test('a port that is gone, or a place that never was, is a plain typed error', REAL_PROCESSES, () => {
  const port = world.openVirtualOutput?.('Sedge out')
  const place = ours.inputs().findIndex((name) => name.includes('Sedge out'))
  port?.close()
  expect(() => ours.openInput(place, () => {})).toThrow(
    expect.objectContaining({ kind: 'gone', message: expect.stringContaining('Sedge out') }),
  )
  expect(() => ours.openOutput(99)).toThrow(expect.objectContaining({ kind: 'gone' }))
})
