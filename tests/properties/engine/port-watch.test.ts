import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { MemoryDevice } from '../../../app/engine/ports/memory-device.ts'
import type { MemoryMidi } from '../../../app/engine/ports/midi-memory.ts'
import type { PortWay } from '../../../app/engine/ports/midi-system.ts'
import type { PortEvent } from '../../../app/engine/ports/port-event.ts'
import { checkProperty } from '../../support/property.ts'
import { watched } from '../../support/watched.ts'

/** What may happen between two looks. */
type Deed =
  | {
      readonly kind: 'pull' | 'replug' | 'number' | 'hold' | 'play'
      readonly device: number
      readonly count: number
    }
  | { readonly kind: 'shuffle' | 'fail' | 'mend' | 'look' | 'answer'; readonly count: number }

// Two of the very same name, two that systems tell apart by count, two by address, and two of their own.
const NAMES = ['Fern', 'Fern', 'Moss', '2- Moss', 'Reed 20:0', 'Reed 24:0', '', 'Sédge']

const deeds = fc.array(
  fc.oneof(
    fc.record({
      kind: fc.constantFrom('pull', 'replug', 'number', 'hold', 'play'),
      device: fc.nat(NAMES.length - 1),
      count: fc.nat(20),
    }),
    fc.record({
      kind: fc.constantFrom('shuffle', 'fail', 'mend', 'look', 'look', 'answer'),
      count: fc.nat(20),
    }),
  ) as fc.Arbitrary<Deed>,
  { maxLength: 60 },
)

test.each(['input', 'output'] as const)(
  '%s: whatever happens, no port is open twice, no two wishes share a device, each message comes once, events alternate',
  (way) => {
    checkProperty(
      `port watch, ${way}`,
      fc.property(deeds, (all) => run(way, all)),
    )
  },
)

function run(way: PortWay, all: readonly Deed[]): void {
  const world = watched()
  const { midi, watch, timer, events, heard } = world
  const devices = NAMES.map((name) => midi.plug(way, name))
  for (const [at, name] of NAMES.entries()) {
    const group = NAMES.map((_, other) => other).filter((other) => kin(other) === kin(at))
    world.want(way, `w${at}`, { name, nth: group.indexOf(at), of: group.length })
  }
  watch.start()
  const told = new Map<string, PortEvent['kind']>()
  let played = 0
  for (const deed of [...all, { kind: 'mend', count: 0 } as const, { kind: 'look', count: 0 } as const]) {
    if (deed.kind === 'play') played = play(way, deed.device, devices, world, played)
    else doDeed(way, deed, devices, midi, world)
    for (const event of events.splice(0)) {
      expect(
        mayFollow(told.get(event.wanted), event.kind),
        `${told.get(event.wanted)} then ${event.kind}`,
      ).toBe(true)
      told.set(event.wanted, event.kind)
    }
    for (const device of devices) {
      expect(device.ears.size).toBeLessThanOrEqual(1)
      expect(device.open).toBeLessThanOrEqual(1)
    }
    // No wish holds two ports, open or in doubt.
    expect(midi.openCount).toBeLessThanOrEqual(NAMES.length)
  }
  // Once all is plugged in and free, every wish is open, whatever went before.
  for (const device of devices) {
    device.heldByOther = false
    midi.replug(way, device)
  }
  midi.reorder(way, (a, b) => devices.indexOf(a) - devices.indexOf(b))
  timer.pass(30_000)
  for (const at of NAMES.keys()) expect(watch.isOpen(`w${at}`), `w${at}`).toBe(true)
  watch.stop()
  expect(midi.openCount).toBe(0)
  expect(heard.length).toBeLessThanOrEqual(played)
}

/** A device plays, or its wish sends to it: at most one hears, once; and whoever is said to be open does. */
function play(
  way: PortWay,
  at: number,
  devices: readonly MemoryDevice[],
  { heard, watch, midi, timer }: ReturnType<typeof watched>,
  played: number,
): number {
  // A little after the look: what comes at once after a loss proves nothing.
  timer.pass(60)
  const bytes = Uint8Array.of(0x90, at, (played % 127) + 1)
  if (way === 'output') {
    const before = devices.map(({ sent }) => sent.length)
    const went = watch.send(`w${at}`, bytes)
    const more = devices.map(({ sent }, index) => sent.length - (before[index] ?? 0))
    expect(more.reduce((sum, count) => sum + count, 0)).toBe(went ? 1 : 0)
    return played + 1
  }
  const before = heard.length
  const device = devices[at]
  const listening = device !== undefined && device.plugged && device.ears.size > 0
  device?.deliver(bytes)
  expect(heard.length - before).toBe(listening ? 1 : 0)
  // A name that no other port has is never another's.
  if (listening && at >= 6) expect(heard.at(-1)?.key).toBe(`w${at}`)
  expect(midi.openCount).toBeLessThanOrEqual(NAMES.length)
  return played + 1
}

function doDeed(
  way: PortWay,
  deed: Exclude<Deed, { kind: 'play' }> | Deed,
  devices: readonly MemoryDevice[],
  midi: MemoryMidi,
  { timer, watch }: ReturnType<typeof watched>,
): void {
  const device = 'device' in deed ? devices[deed.device] : undefined
  if (deed.kind === 'pull' && device !== undefined) midi.pull(way, device)
  // Systems list equal names in an order of their own that stays: that of `devices` here.
  if (deed.kind === 'replug' && device !== undefined) {
    midi.replug(way, device)
    midi.reorder(way, (a, b) => devices.indexOf(a) - devices.indexOf(b))
  }
  if (deed.kind === 'hold' && device !== undefined) device.heldByOther = !device.heldByOther
  if (deed.kind === 'number' && device !== undefined && !device.plugged && device.name.startsWith('Reed ')) {
    device.name = `Reed ${28 + 4 * deed.count}:0`
  }
  if (deed.kind === 'shuffle') {
    const rank = (one: MemoryDevice) => (kin(devices.indexOf(one)) * 7 + deed.count * 3) % 11
    midi.reorder(way, (a, b) => rank(a) - rank(b) || devices.indexOf(a) - devices.indexOf(b))
  }
  if (deed.kind === 'fail') midi.fail('no sound server')
  if (deed.kind === 'mend') midi.fail(undefined)
  if (deed.kind === 'look') timer.pass(500 + (deed.count === 20 ? 12_000 : 0))
  if (deed.kind === 'answer') answer(way, deed.count, devices, midi, watch)
}

/** A person answers the truth, if the device is there at all. */
function answer(
  way: PortWay,
  count: number,
  devices: readonly MemoryDevice[],
  midi: MemoryMidi,
  watch: ReturnType<typeof watched>['watch'],
): void {
  const at = count % NAMES.length
  const device = devices[at]
  if (device === undefined || !device.plugged) return
  const place = midi.placeOf(way, device)
  watch.choose(`w${at}`, place)
}

/** Which equal names a device has: devices of one kin are told apart by nothing but order. */
function kin(at: number): number {
  return at < 6 ? Math.floor(at / 2) : at
}

/** The sane order of what is told of one wish. */
function mayFollow(last: PortEvent['kind'] | undefined, next: PortEvent['kind']): boolean {
  const up = last === 'opened' || last === 'returned'
  if (next === 'opened') return last !== 'lost' && !up
  if (next === 'returned') return last !== undefined && !up
  if (next === 'lost') return up
  if (next === 'missing') return !up && last !== 'lost' && last !== 'missing'
  if (next === 'ambiguous') return !up
  return !up && last !== next
}
