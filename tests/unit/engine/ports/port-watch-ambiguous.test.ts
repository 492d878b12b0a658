import { expect, test } from 'vitest'
import { watched } from '../../../support/watched.ts'

const NOTE = Uint8Array.of(0x90, 60, 100)

/** Two equal names, both open. */
function pair(name: (nth: number) => string) {
  const all = watched()
  const devices = [all.midi.plug('input', name(0)), all.midi.plug('input', name(1))] as const
  all.want('input', 'keys', { name: name(0), nth: 0, of: 2 })
  all.want('input', 'pads', { name: name(1), nth: 1, of: 2 })
  all.watch.start()
  expect(all.said()).toEqual(['keys opened', 'pads opened'])
  return { ...all, devices }
}

test('both of two equal names go, one comes back: both ask, none opens; the answer opens the right one', () => {
  const { midi, watch, timer, said, events, heard, devices } = pair((nth) => `Fern ${20 + 4 * nth}:0`)
  for (const device of devices) midi.pull('input', device)
  timer.pass(500)
  expect(said()).toEqual(['keys lost', 'pads lost'])
  devices[1].name = 'Fern 20:0'
  midi.replug('input', devices[1])
  timer.pass(500)
  expect(events).toMatchObject([
    { wanted: 'keys', kind: 'ambiguous', places: [0], names: ['Fern 20:0'] },
    { wanted: 'pads', kind: 'ambiguous', places: [0], names: ['Fern 20:0'] },
  ])
  said()
  timer.pass(5_000)
  expect(said()).toEqual([])
  expect(midi.openCount).toBe(0)
  expect(watch.choose('pads', 0)).toBe(true)
  timer.pass(500)
  expect(said()).toEqual(['pads returned', 'keys missing'])
  devices[1].deliver(NOTE)
  expect(heard.map(({ key }) => key)).toEqual(['pads'])
  expect(watch.choose('keys', 0)).toBe(false)
})

test('both of two equal names come back at once: their order says which is which', () => {
  const { midi, timer, said, heard, devices } = pair((nth) => `Fern ${20 + 4 * nth}:0`)
  for (const device of devices) midi.pull('input', device)
  timer.pass(500)
  said()
  for (const [nth, device] of devices.entries()) {
    device.name = `Fern ${32 + 4 * nth}:0`
    midi.replug('input', device)
  }
  timer.pass(500)
  expect(said()).toEqual(['keys returned', 'pads returned'])
  for (const device of devices) device.deliver(NOTE)
  expect(heard.map(({ key }) => key)).toEqual(['keys', 'pads'])
})

test('one of two ports of the very same name goes: both release, and playing tells which one is left', () => {
  const { midi, timer, said, heard, devices } = pair(() => 'Fern')
  midi.pull('input', devices[0])
  timer.pass(500)
  expect(said()).toEqual(['keys lost', 'keys ambiguous', 'pads lost', 'pads ambiguous'])
  timer.pass(5_000)
  expect(said()).toEqual([])
  devices[1].deliver(NOTE)
  devices[1].deliver(NOTE)
  expect(said()).toEqual(['pads returned', 'keys missing'])
  expect(heard.map(({ key }) => key)).toEqual(['pads', 'pads'])
  midi.replug('input', devices[0], 0)
  timer.pass(500)
  expect(said()).toEqual(['keys opened'.replace('opened', 'returned')])
  for (const device of devices) device.deliver(NOTE)
  expect(heard.map(({ key }) => key)).toEqual(['pads', 'pads', 'keys', 'pads'])
})

test('one of two ports of the very same name goes and comes back: both are opened anew, in order', () => {
  const { midi, timer, said, heard, devices } = pair(() => 'Fern')
  midi.pull('input', devices[1])
  timer.pass(500)
  said()
  midi.replug('input', devices[1])
  timer.pass(500)
  expect(said()).toEqual(['keys returned', 'pads returned'])
  for (const device of devices) device.deliver(NOTE)
  expect(heard.map(({ key }) => key)).toEqual(['keys', 'pads'])
  expect(devices.map((device) => device.ears.size)).toEqual([1, 1])
})

test('one of two ports of the very same name goes: the answer confirms the one that stayed open', () => {
  const { midi, watch, timer, said, devices } = pair(() => 'Fern')
  const [ear] = devices[0].ears
  midi.pull('input', devices[1])
  timer.pass(500)
  said()
  expect(watch.choose('keys', 0)).toBe(true)
  expect(said()).toEqual(['keys returned', 'pads missing'])
  expect([...devices[0].ears]).toEqual([ear])
  expect(midi.openCount).toBe(1)
})

test('an answer about a list that has changed is refused, and asked anew', () => {
  const { midi, watch, want, said, events } = watched()
  midi.plug('input', 'Fern')
  midi.plug('input', 'Fern')
  want('input', 'keys', { name: 'Fern' })
  watch.start()
  expect(said()).toEqual(['keys ambiguous'])
  midi.plug('input', 'Moss', 0)
  expect(watch.choose('keys', 0)).toBe(false)
  expect(events).toMatchObject([{ kind: 'ambiguous', places: [1, 2] }])
  said()
  expect(watch.choose('keys', 2)).toBe(true)
  expect(said()).toEqual(['keys opened'])
  expect(watch.choose('keys', 2)).toBe(false)
  expect(watch.choose('nobody', 0)).toBe(false)
})
