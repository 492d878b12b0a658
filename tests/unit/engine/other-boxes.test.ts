import { expect, test } from 'vitest'
import { plugBox, type PluggedBoxOptions } from '../../../app/engine/virtual-box/plug-box.ts'
import { decodeFrame, encodeFrame } from '../../../src/outputs/frame-wire.ts'
import type { HostFrame } from '../../../src/outputs/serial-frame.ts'
import { quantiseToTimer } from '../../../src/tuning/timer.ts'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { startSession } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const FOUR = [60, 64, 67, 72]

/** Four keys held on four lamps, and at their port a box that is not what the show says. */
async function played(options: PluggedBoxOptions, toHost?: (bytes: Uint8Array) => Uint8Array | undefined) {
  const run = startSession(validShow(glasshouse()))
  const { machine, session } = run
  machine.serial.unplug('virtual')
  const { box, port } = plugBox(machine.serial, { path: 'virtual' }, machine.timers, options)
  const sent: HostFrame[] = []
  port.toDevice = (bytes) => {
    const frame = decodeFrame(bytes.subarray(0, -1))
    if (typeof frame === 'string') throw new Error(`a damaged frame: ${frame}`)
    sent.push(frame as HostFrame)
    return bytes
  }
  if (toHost) port.toHost = toHost
  const keybed = machine.midiIn.plug('input', 'Keybed')
  session.start()
  await machine.timers.pass(700 * MS)
  for (const key of FOUR) keybed.deliver(Uint8Array.of(0x90, key, 100))
  await machine.timers.pass(12_000 * MS)
  const told = run.of('diagnostic').map(({ diagnostic }) => diagnostic)
  const words = run.of('port').flatMap(({ port: one }) => (one.id === 'wire' ? [one.message] : []))
  return { ...run, box, sent, told, words, lit: box.lamps().flatMap(({ on }, slot) => (on ? [slot] : [])) }
}

test('a box of another protocol version: no lamp is ever set, and it is told as a fault', async () => {
  const { lit, sent, told } = await played({ lamps: 4 }, (bytes) => {
    const frame = decodeFrame(bytes.subarray(0, -1))
    return typeof frame !== 'string' && frame.type === 'identity'
      ? encodeFrame({ ...frame, version: 2 })
      : bytes
  })
  expect(sent.filter(({ type }) => type === 'set')).toEqual([])
  expect(lit).toEqual([])
  expect(told).toMatchObject([
    {
      level: 'fault',
      source: 'wire',
      code: 'box-differs',
      message: expect.stringMatching(/version 2 .*program version 1.*dark until it has firmware/),
    },
  ])
})

test.each([
  ['that answers nothing', () => undefined],
  ['that answers rubbish', () => Uint8Array.of(0x55, 0xaa, 0, 0x82, 1, 2, 3, 4, 5, 6, 7, 0)],
])('something %s on the port: no lamp is ever set, and it is told', async (_, toHost) => {
  const { lit, sent, words } = await played({ lamps: 4 }, toHost)
  expect(new Set(sent.map(({ type }) => type))).toEqual(new Set(['dark', 'hello']))
  expect(lit).toEqual([])
  expect(words).toContain('virtual: the lamp box does not answer')
})

test('a box with fewer lamps than the show: those it has play, the others are told and stay dark', async () => {
  const { lit, sent, told } = await played({ lamps: 2 })
  expect(lit).toEqual([0, 1])
  const slots = sent.flatMap((frame) => (frame.type === 'set' ? frame.lamps.map(({ slot }) => slot) : []))
  expect(new Set(slots)).toEqual(new Set([0, 1]))
  expect(told).toMatchObject([
    { level: 'warning', code: 'box-differs', message: 'the box has no slot 2, 3, so those lamps stay dark' },
  ])
})

test('a box with another timer: told, and each lamp at the rate that this timer makes of its note', async () => {
  const timer = { clockHz: 8_000_000, prescalers: [1, 8, 64], bits: 16 }
  const { box, lit, told } = await played({ lamps: 4, timer })
  expect(lit).toEqual([0, 1, 2, 3])
  FOUR.forEach((key, slot) => {
    const real = quantiseToTimer(midiKeyToHz(key), timer)?.realHz ?? NaN
    expect(box.lamps()[slot]?.hz).toBeCloseTo(real, 3)
  })
  expect(told).toMatchObject([
    {
      level: 'warning',
      code: 'box-differs',
      message: expect.stringMatching(/clock is 8000000 Hz, the show says 16000000 Hz/),
    },
  ])
})
