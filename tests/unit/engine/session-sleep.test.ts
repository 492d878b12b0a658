import { expect, test } from 'vitest'
import { plugBox } from '../../../app/engine/virtual-box/plug-box.ts'
import { startSession } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const on = (key: number): Uint8Array => Uint8Array.of(0x90, key, 100)
const off = (key: number): Uint8Array => Uint8Array.of(0x80, key, 64)

async function playing(strategy: { readonly kind: string } & Record<string, unknown>) {
  const show = validShow(
    glasshouse({
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss', 'reed', 'sedge'], strategy }],
        },
      ],
    } as never),
  )
  const run = startSession(show)
  const { machine } = run
  const keybed = machine.midiIn.plug('input', 'Keybed')
  run.session.start()
  await machine.timers.pass(350 * MS)
  const lit = (): number[] =>
    (machine.boxes.get('wire')?.lamps() ?? []).flatMap((lamp, slot) => (lamp.on ? [slot] : []))
  return { ...run, keybed, lit, pass: (ms: number) => machine.timers.pass(ms * MS) }
}

test('before the machine sleeps all is dark, and nothing that was due is made up for when it is awake', async () => {
  const { session, machine, keybed, lit, pass, of } = await playing({ kind: 'canon', delayMs: 500 })
  keybed.deliver(on(60))
  keybed.deliver(off(60))
  keybed.deliver(on(62))
  await pass(10)
  expect(lit()).toEqual([0])
  session.sleep()
  await pass(1)
  expect(lit()).toEqual([])
  expect(of('dark')).toHaveLength(1)
  machine.timers.skip(3_600_000 * MS)
  session.awake()
  expect(of('dark')).toHaveLength(2)
  const told = of('lamps').length
  await pass(5_000)
  expect(
    of('lamps')
      .slice(told)
      .flatMap(({ lamps }) => lamps.filter((lamp) => lamp.on)),
  ).toEqual([])
  expect(lit()).toEqual([])
  keybed.deliver(on(64))
  await pass(10)
  expect(lit()).toEqual([0])
})

test.each([0.5, 99])(
  'a chord that is held, nothing due, and a machine that slept %d ms later unannounced: dark when it is awake, and not lit again',
  async (after) => {
    const { machine, keybed, lit, pass, of } = await playing({ kind: 'lowest-free' })
    keybed.deliver(on(60))
    keybed.deliver(on(64))
    await pass(1_000)
    keybed.deliver(on(67))
    // Also with the box's reply still unread.
    await pass(after)
    expect(lit()).toEqual([0, 1, 2])
    machine.timers.skip(4_000 * MS)
    for (let ms = 0; ms < 3_000; ms++) {
      await pass(1)
      expect(lit()).toEqual([])
    }
    expect(of('diagnostic').map(({ diagnostic }) => diagnostic.code)).toEqual(['slept'])
    keybed.deliver(off(60))
    keybed.deliver(on(72))
    await pass(10)
    expect(lit()).toEqual([0])
  },
)

test('held up for less than two seconds it goes on as it was', async () => {
  const { machine, keybed, lit, pass, of } = await playing({ kind: 'lowest-free' })
  keybed.deliver(on(60))
  await pass(1_000)
  machine.timers.skip(1_800 * MS)
  await pass(1_000)
  expect(lit()).toEqual([0])
  expect(of('diagnostic')).toEqual([])
})

test('what is played while it goes to sleep lights nothing', async () => {
  const { session, keybed, lit, pass } = await playing({ kind: 'lowest-free' })
  session.sleep()
  keybed.deliver(on(60))
  await pass(100)
  expect(lit()).toEqual([])
  session.awake()
  keybed.deliver(off(60))
  keybed.deliver(on(62))
  await pass(10)
  expect(lit()).toEqual([0])
})

test('a machine that did not sleep after all, and of which nobody said so, plays again', async () => {
  const { session, keybed, lit, pass } = await playing({ kind: 'lowest-free' })
  session.sleep()
  await pass(5_000)
  keybed.deliver(on(60))
  await pass(10)
  expect(lit()).toEqual([0])
  expect(session.isAsleep).toBe(false)
})

test('awake, ports are looked for at once, also those plugged in anew meanwhile, and those that are gone', async () => {
  const { session, machine, keybed, states, lit, pass } = await playing({ kind: 'lowest-free' })
  session.sleep()
  await pass(1)
  // Its place in the list is as before; the port that was open there is dead.
  machine.midiIn.pull('input', keybed)
  machine.midiIn.replug('input', keybed)
  session.awake()
  expect(states('keys')).toEqual(['open', 'open'])
  keybed.deliver(on(60))
  await pass(10)
  expect(lit()).toEqual([0])
  session.sleep()
  machine.midiIn.pull('input', keybed)
  session.awake()
  expect(states('keys').at(-1)).toBe('missing')
})

test('a lamp box that came back while the machine slept is taken at once', async () => {
  const { session, machine, states, pass } = await playing({ kind: 'lowest-free' })
  machine.serial.unplug('virtual')
  session.sleep()
  await pass(1_300)
  expect(states('wire').at(-1)).not.toBe('ready')
  plugBox(machine.serial, { path: 'virtual', serialNumber: 'wire' }, machine.timers)
  session.awake()
  // Well before the second between two tries is over.
  await pass(20)
  expect(states('wire').at(-1)).toBe('ready')
})

test('a lamp that is looked for is told, and why it is dark again', async () => {
  const { session, keybed, lit, pass, of } = await playing({ kind: 'lowest-free' })
  session.findLamp('reed')
  await pass(40)
  expect(lit()).toEqual([2])
  expect(of('lamps').at(-1)?.lamps[2]).toMatchObject({ lamp: 'reed', on: true, duty: 0.1 })
  expect(of('lamps').at(-1)?.lamps[2]?.part).toBeUndefined()
  await pass(2_000)
  expect(lit()).toEqual([])
  session.findLamp('reed')
  session.findLamp(null)
  session.findLamp(null)
  session.findLamp('nettle')
  keybed.deliver(on(60))
  session.findLamp('fern')
  session.findLamp('moss')
  session.darkAll()
  session.sleep()
  session.findLamp('moss')
  const none = { v: 1, type: 'finding', lamp: null }
  expect(of('finding')).toEqual([
    { ...none, lamp: 'reed' },
    none,
    { ...none, lamp: 'reed' },
    none,
    none,
    { ...none, why: 'the rig has no lamp "nettle"' },
    { ...none, why: 'lit by part lead' },
    { ...none, lamp: 'moss' },
    { ...none, why: 'all dark' },
    { ...none, why: 'the machine is about to sleep' },
  ])
})

test('players are told after a change, at most fifteen times a second', async () => {
  const { keybed, pass, of } = await playing({ kind: 'lowest-free' })
  expect(of('players')).toHaveLength(1)
  await pass(1_000)
  expect(of('players')).toHaveLength(1)
  keybed.deliver(on(60))
  await pass(70)
  expect(of('players').at(-1)?.players).toMatchObject([
    { player: 'keys', keys: [{ key: 60, velocity: 100, pedalled: false }], notes: 1, dropped: 0 },
  ])
  keybed.deliver(off(60))
  await pass(70)
  expect(of('players').at(-1)?.players[0]?.keys).toEqual([])
  const before = of('players').length
  for (let time = 0; time < 200; time++) {
    keybed.deliver(time % 2 === 0 ? on(62) : off(62))
    await pass(5)
  }
  expect(of('players').length - before).toBeLessThanOrEqual(15)
  expect(of('players').length - before).toBeGreaterThan(12)
})
