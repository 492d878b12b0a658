import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import { startSession } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000

function house() {
  const even = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
  const shore = { id: 'shore', kind: 'received', player: 'keys', base: 'even' }
  const song = (id: string, tuning: string) => ({
    id,
    title: id,
    tuning,
    parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
  })
  return validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
        outputs: [
          { id: 'wire', kind: 'serial', port: '/dev/box' },
          { id: 'choir', kind: 'midi', port: 'Choir', layout: 'mpe', mts: { form: 'bulk' } },
        ],
        lamps: [{ id: 'fern', output: 'wire', slot: 0, supply: 'bench', watts: 10 }],
      },
      tunings: [even, shore],
      songs: [song('tide', 'shore'), song('ebb', 'even')],
    } as never),
  )
}

async function playing() {
  const run = startSession(house())
  const { machine } = run
  const keybed = machine.midiIn.plug('input', 'Keybed')
  const choir = machine.midiOut.plug('output', 'Choir')
  run.session.start()
  await machine.timers.pass(1500 * MS)
  const box = machine.boxes.get('wire')
  if (!box) throw new Error('no box')
  return { ...run, keybed, choir, box }
}

/** Of the system exclusives that came: how many bytes, and key 69's three. */
const dumps = (device: { readonly sent: readonly { readonly bytes: Uint8Array }[] }) =>
  device.sent.flatMap(({ bytes }) =>
    bytes[0] === 0xf0 ? [[bytes.length, ...bytes.slice(22 + 3 * 69, 25 + 3 * 69)]] : [],
  )

test('an instrument’s dump, in pieces as a port gives it, is what its notes sound; and who listens is told', async () => {
  const { keybed, choir, box, machine } = await playing()
  expect(dumps(choir)).toEqual([[408, 0x45, 0, 0]])
  // Half a semitone up.
  const words = Array.from({ length: 128 }, (_, key) => Math.min(127.9, key + 0.5) * 16384).map(Math.floor)
  const dump = [0xf0, ...encodeMts({ kind: 'bulk', device: 0, program: 0, name: 'shore', words }), 0xf7]
  keybed.deliver(Uint8Array.from(dump.slice(0, 256)))
  await machine.timers.pass(2 * MS)
  keybed.deliver(Uint8Array.from(dump.slice(256)))
  keybed.deliver(Uint8Array.of(0x90, 69, 100))
  await machine.timers.pass(300 * MS)
  // A timer of a 16 MHz part is well within 0.1 Hz here.
  expect(box.lamps()[0]?.hz).toBeCloseTo(midiKeyToHz(69.5), 1)
  expect(dumps(choir).slice(1)).toEqual([[408, 0x45, 0x40, 0]])
})

test('a live change is told once, and all of it again to whoever is plugged in again', async () => {
  const { choir, session, machine } = await playing()
  session.tune('even', true)
  await machine.timers.pass(300 * MS)
  // The bulk dump has the tuning's name in it.
  expect(dumps(choir)).toHaveLength(2)
  session.tune('even', true)
  session.darkAll()
  await machine.timers.pass(300 * MS)
  expect(dumps(choir)).toHaveLength(2)
  machine.midiOut.pull('output', choir)
  await machine.timers.pass(1500 * MS)
  session.tune(null, false)
  const again = machine.midiOut.plug('output', 'Choir')
  await machine.timers.pass(1500 * MS)
  expect(dumps(again)).toEqual([[408, 0x45, 0, 0]])
  const name = again.sent.find(({ bytes }) => bytes[0] === 0xf0)?.bytes.slice(6, 22)
  expect(
    Buffer.from(name ?? [])
      .toString('latin1')
      .trim(),
  ).toBe('shore')
})
