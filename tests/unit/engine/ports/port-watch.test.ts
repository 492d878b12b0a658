import { expect, test } from 'vitest'
import type { PortWay } from '../../../../app/engine/ports/midi-system.ts'
import { PortWatch } from '../../../../app/engine/ports/port-watch.ts'
import { watched } from '../../../support/watched.ts'

const NOTE = Uint8Array.of(0x90, 60, 100)
const WAYS: PortWay[] = ['input', 'output']

test.each(WAYS)(
  '%s: missing, opened when it comes, lost within a period, returned; each told once',
  (way) => {
    const { midi, watch, timer, want, said } = watched()
    watch.start()
    want(way, 'keys', { name: 'Fern' })
    expect(said()).toEqual(['keys missing'])
    timer.pass(5_000)
    expect(said()).toEqual([])
    const device = midi.plug(way, 'Fern')
    timer.pass(500)
    expect(said()).toEqual(['keys opened'])
    expect(watch.isOpen('keys')).toBe(true)
    midi.pull(way, device)
    timer.pass(500)
    expect(said()).toEqual(['keys lost'])
    expect(watch.isOpen('keys')).toBe(false)
    expect(midi.openCount).toBe(0)
    timer.pass(5_000)
    expect(said()).toEqual([])
    midi.replug(way, device)
    timer.pass(5_000)
    expect(said()).toEqual(['keys returned'])
    expect(midi.openCount).toBe(1)
    watch.stop()
    expect(midi.openCount).toBe(0)
    expect(timer.waiting).toBe(0)
  },
)

test.each(WAYS)(
  '%s: held by another program is told once and tried after 3, 6, 12, 12 s; others work',
  (way) => {
    const { midi, watch, timer, want, said } = watched()
    const device = midi.plug(way, 'Fern')
    midi.plug(way, 'Moss')
    device.heldByOther = true
    let tries = 0
    Object.defineProperty(device, 'heldByOther', { get: () => (tries++, true), configurable: true })
    want(way, 'keys', { name: 'Fern' })
    want(way, 'pads', { name: 'Moss' })
    watch.start()
    expect(said()).toEqual(['keys busy', 'pads opened'])
    const seen: number[] = []
    for (let ms = 0; ms < 45_000; ms += 500) {
      const before = tries
      timer.pass(500)
      if (tries > before) seen.push(timer.now() / 1000)
    }
    expect(seen).toEqual([3, 9, 21, 33, 45])
    expect(said()).toEqual([])
    Object.defineProperty(device, 'heldByOther', { value: false, writable: true })
    timer.pass(12_000)
    expect(said()).toEqual(['keys opened'])
  },
)

test('held by another program, pulled and put back: tried at once', () => {
  const { midi, watch, timer, want, said } = watched()
  const device = midi.plug('input', 'Fern')
  device.heldByOther = true
  want('input', 'keys', { name: 'Fern' })
  watch.start()
  timer.pass(30_000)
  midi.pull('input', device)
  timer.pass(500)
  device.heldByOther = false
  midi.replug('input', device)
  timer.pass(500)
  expect(said()).toEqual(['keys busy', 'keys missing', 'keys opened'])
})

test('MIDI as a whole fails and comes back; a single failure is passed over; a late wish is told too', () => {
  const { midi, watch, timer, want, said, events } = watched()
  midi.plug('input', 'Fern')
  want('input', 'keys', { name: 'Fern' })
  watch.start()
  midi.fail('no sound server')
  timer.pass(500)
  midi.fail(undefined)
  timer.pass(500)
  expect(said()).toEqual(['keys opened'])
  midi.fail('no sound server')
  timer.pass(1_000)
  expect(events.at(-1)).toMatchObject({ kind: 'unavailable', message: 'no sound server' })
  expect(said()).toEqual(['keys lost', 'keys unavailable'])
  want('input', 'pads', { name: 'Moss' })
  expect(said()).toEqual(['pads unavailable'])
  midi.fail(undefined)
  timer.pass(12_000)
  expect(said()).toEqual(['keys returned', 'pads missing'])
})

test('a returned input delivers each message once, and nothing that its earlier opening still hears', () => {
  const { midi, watch, timer, want, heard } = watched()
  const device = midi.plug('input', 'Fern')
  want('input', 'keys', { name: 'Fern' })
  watch.start()
  device.deliver(NOTE)
  const [old] = device.ears
  for (let round = 0; round < 5; round++) {
    midi.pull('input', device)
    timer.pass(500)
    midi.replug('input', device)
    timer.pass(500)
  }
  old?.(NOTE)
  device.deliver(NOTE)
  expect(heard).toHaveLength(2)
  watch.unwant('keys')
  device.deliver(NOTE)
  old?.(NOTE)
  expect(heard).toHaveLength(2)
})

test('a list that turns round or changes counts while ports are open closes and swaps nothing', () => {
  const { midi, watch, timer, want, said, heard } = watched()
  const fern = midi.plug('input', '2- Fern')
  const moss = midi.plug('input', 'Moss')
  want('input', 'keys', { name: '2- Fern' })
  want('input', 'pads', { name: 'Moss' })
  watch.start()
  expect(said()).toEqual(['keys opened', 'pads opened'])
  const ears = [...fern.ears, ...moss.ears]
  midi.reorder('input', (a, b) => a.name.localeCompare(b.name) * -1)
  timer.pass(500)
  fern.name = 'Fern'
  timer.pass(500)
  fern.name = '3- Fern'
  midi.plug('input', 'Reed', 0)
  timer.pass(500)
  expect(said()).toEqual([])
  expect([...fern.ears, ...moss.ears]).toEqual(ears)
  fern.deliver(NOTE)
  moss.deliver(NOTE)
  expect(heard.map(({ key }) => key)).toEqual(['keys', 'pads'])
})

test('sending to a port that broke says lost at once; while it is gone, send answers false', () => {
  const { midi, watch, want, said, timer } = watched()
  const device = midi.plug('output', 'Fern')
  want('output', 'din', { name: 'Fern' })
  watch.start()
  expect(watch.send('din', NOTE)).toBe(true)
  midi.pull('output', device)
  expect(said()).toEqual(['din opened'])
  expect(watch.send('din', NOTE)).toBe(false)
  expect(said()).toEqual(['din lost'])
  expect(watch.send('din', NOTE)).toBe(false)
  midi.replug('output', device)
  timer.pass(500)
  expect(said()).toEqual(['din returned'])
  expect(watch.send('din', NOTE)).toBe(true)
  expect(device.sent.map(({ at }) => at)).toEqual([0, 500])
  expect(watch.send('nobody', NOTE)).toBe(false)
})

test('two wishes for one port: the second is told so, and never opens it', () => {
  const { midi, watch, timer, want, events } = watched()
  const device = midi.plug('input', 'Fern')
  want('input', 'keys', { name: 'Fern' })
  want('input', 'pads', { name: 'Fern' })
  watch.start()
  timer.pass(2_000)
  expect(events.map(({ kind }) => kind)).toEqual(['opened', 'missing'])
  expect(events[1]).toMatchObject({ message: expect.stringContaining('already open') })
  expect(device.ears.size).toBe(1)
})

test('10,000 polls with devices coming and going leave no timer, ear or port behind', () => {
  const { midi, watch, timer, want } = watched()
  const device = midi.plug('input', 'Fern')
  want('input', 'keys', { name: 'Fern' })
  watch.start()
  for (let at = 0; at < 10_000; at++) {
    if (at % 7 === 0) midi.pull('input', device)
    if (at % 7 === 3) midi.replug('input', device)
    timer.pass(500)
    expect(timer.waiting).toBe(1)
    expect(midi.openCount).toBeLessThanOrEqual(1)
  }
})

test('what reports may call the watch', () => {
  const { midi, timer } = watched()
  const said: string[] = []
  midi.plug('input', 'Fern')
  const watch = new PortWatch({
    system: midi,
    timer,
    report: (event) => {
      said.push(`${event.wanted} ${event.kind}`)
      if (event.wanted === 'keys' && event.kind === 'opened') {
        watch.want({ key: 'pads', way: 'input', port: { name: 'Moss' }, heard: () => {} })
        watch.unwant('keys')
        watch.poll()
      }
    },
  })
  watch.want({ key: 'keys', way: 'input', port: { name: 'Fern' }, heard: () => {} })
  watch.start()
  timer.pass(1_000)
  expect(said).toEqual(['keys opened', 'pads missing'])
  watch.stop()
  expect(midi.openCount).toBe(0)
})
