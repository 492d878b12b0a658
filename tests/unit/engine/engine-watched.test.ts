import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { DEMO_SHOW, DEMO_TAKE, demoShow } from '../../support/demo.ts'
import { engineInMemory } from '../../support/engine-in-memory.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const TEXT = readFileSync(DEMO_SHOW, 'utf8')
const TAKE = readFileSync(DEMO_TAKE).toString('base64')

async function demo(rig: 'virtual' | 'real' = 'virtual', take: string | undefined = TAKE) {
  const run = engineInMemory(demoShow())
  run.ask({ type: 'load', text: TEXT, rig, ...(take === undefined ? {} : { take }) })
  await run.machine.timers.pass(500 * MS)
  /** Lamps that were lit at some time since `from` messages of lamps. */
  const lit = (from = 0): string[] => [
    ...new Set(
      run
        .of('lamps')
        .slice(from)
        .flatMap(({ lamps }) => lamps.flatMap(({ lamp, on }) => (on ? [lamp] : []))),
    ),
  ]
  return { ...run, lit }
}

async function small() {
  const raw = glasshouse()
  const run = engineInMemory(validShow(raw))
  const keybed = run.machine.midiIn.plug('input', 'Keybed')
  run.ask({ type: 'load', text: JSON.stringify(raw), rig: 'real' })
  await run.machine.timers.pass(500 * MS)
  return { ...run, raw, keybed }
}

// Players in memory.

test.each(['virtual', 'real'] as const)(
  'with its take the demo lights lamps of every part, on a %s rig',
  async (rig) => {
    const { machine, of, lit } = await demo(rig)
    await machine.timers.pass(20_000 * MS)
    for (const id of ['keys', 'pads', 'bass'])
      expect(of('port').findLast(({ port }) => port.id === id)?.port).toMatchObject({ state: 'open' })
    const parts = new Set(of('lamps').flatMap(({ lamps }) => lamps.flatMap(({ part }) => part ?? [])))
    expect([...parts].toSorted()).toEqual(['drips', 'lead', 'low'])
    expect(lit()).toEqual(expect.arrayContaining(['fern', 'palm', 'ivy']))
    expect(of('diagnostic').filter(({ diagnostic }) => diagnostic.source === 'take')).toEqual([])
  },
)

test('the take goes round: after 72 seconds there is light again', async () => {
  const { machine, of, lit } = await demo()
  await machine.timers.pass(72_000 * MS)
  const before = of('lamps').length
  await machine.timers.pass(5_000 * MS)
  expect(lit(before)).toContain('fern')
})

test('dark-all does not stop the players, sleep does until awake', async () => {
  const { machine, ask, of, lit } = await demo()
  await machine.timers.pass(3_000 * MS)
  ask({ type: 'dark-all' })
  let before = of('lamps').length
  await machine.timers.pass(5_000 * MS)
  expect(lit(before)).not.toEqual([])
  ask({ type: 'sleep' })
  await machine.timers.pass(1_000 * MS)
  before = of('lamps').length
  await machine.timers.pass(20_000 * MS)
  expect(lit(before)).toEqual([])
  ask({ type: 'awake' })
  await machine.timers.pass(5_000 * MS)
  expect(lit(before)).not.toEqual([])
})

test('edited, the demo plays on; a player on another port is played there', async () => {
  const { machine, ask, of, lit } = await demo()
  const show = demoShow()
  const retitled = JSON.stringify({ ...show, title: 'Third night' })
  await machine.timers.pass(2_000 * MS)
  ask({ type: 'revise', text: retitled })
  let before = of('lamps').length
  await machine.timers.pass(3_000 * MS)
  expect(of('loaded').at(-1)?.title).toBe('Third night')
  expect(lit(before)).not.toEqual([])
  const players = show.players.map((player) =>
    player.id === 'keys' ? { ...player, input: { ...player.input, port: 'Organ' } } : player,
  )
  ask({ type: 'revise', text: JSON.stringify({ ...show, players }) })
  await machine.timers.pass(1_000 * MS)
  before = of('lamps').length
  await machine.timers.pass(20_000 * MS)
  expect(of('port').findLast(({ port }) => port.id === 'keys')?.port).toMatchObject({
    name: 'Organ',
    state: 'open',
  })
  expect(lit(before)).toEqual(expect.arrayContaining(['fern', 'palm', 'ivy']))
})

test('the ports of the players are listed while they play, and gone with the next show', async () => {
  const { machine, ask, of } = await demo()
  machine.midiIn.plug('input', 'Stand')
  ask({ type: 'list-ports' })
  await machine.timers.pass(10 * MS)
  expect(of('ports').at(-1)?.midiIn).toEqual(['Keybed', 'Pads', 'Bass', 'Stand'])
  ask({ type: 'load', text: TEXT, rig: 'virtual' })
  await machine.timers.pass(1_000 * MS)
  ask({ type: 'list-ports' })
  const before = of('lamps').length
  await machine.timers.pass(10_000 * MS)
  expect(of('ports').at(-1)?.midiIn).toEqual(['Stand'])
  expect(of('lamps').slice(before)).toEqual([])
  expect(of('port').findLast(({ port }) => port.id === 'keys')?.port.state).toBe('missing')
})

test('with a take that cannot be read the show plays, and that is told', async () => {
  const { machine, of } = await demo('virtual', Buffer.from('no take').toString('base64'))
  expect(of('loaded')).toHaveLength(1)
  expect(of('diagnostic').map(({ diagnostic }) => [diagnostic.level, diagnostic.code])).toContainEqual([
    'fault',
    'take-unreadable',
  ])
  const keybed = machine.midiIn.plug('input', 'Keybed')
  await machine.timers.pass(1_000 * MS)
  keybed.deliver(Uint8Array.of(0x90, 60, 100))
  await machine.timers.pass(100 * MS)
  expect(of('lamps').at(-1)?.lamps[0]).toMatchObject({ lamp: 'fern', on: true })
})

test('stopped, nothing is left that would play on', async () => {
  const { machine, ask, of } = await demo()
  await machine.timers.pass(2_000 * MS)
  ask({ type: 'stop' })
  await machine.timers.pass(1_000 * MS)
  expect(of('stopped')).toEqual([{ v: 1, type: 'stopped', clean: true }])
  const said = of('lamps').length
  await machine.timers.pass(5_000 * MS)
  expect(of('lamps')).toHaveLength(said)
})

// Watching.

test('watched, a note is told as it comes in, lights a lamp and leaves; unwatched, nothing is', async () => {
  const { machine, ask, of, keybed } = await small()
  keybed.deliver(Uint8Array.of(0x90, 64, 90))
  await machine.timers.pass(200 * MS)
  expect(of('monitor')).toEqual([])
  ask({ type: 'watch', monitor: true })
  keybed.deliver(Uint8Array.of(0x90, 69, 90))
  // A status byte where data should stand: the note-on is lost, and 90 is its program.
  keybed.deliver(Uint8Array.of(0x90, 0xc8, 90))
  await machine.timers.pass(100 * MS)
  const told = of('monitor').flatMap(({ events }) => events)
  expect(told.map(({ way, source, text }) => `${way} ${source}: ${text}`)).toEqual([
    'in keys: note-on A4 (69) velocity 90, channel 1',
    'light moss: on, part lead, A4, 439.996 Hz (-0.02 cent), duty 0.50',
    'out wire: moss 440.0 Hz duty 0.50',
    expect.stringMatching(/^in keys: no message: /u),
    'in keys: program 90, channel 9',
    expect.stringMatching(/^word player keys: warning: /u),
  ])
  ask({ type: 'watch', monitor: false })
  keybed.deliver(Uint8Array.of(0x80, 69, 64))
  await machine.timers.pass(500 * MS)
  expect(of('monitor').flatMap(({ events }) => events)).toHaveLength(told.length)
})

test('watching goes on with the next show, with its names', async () => {
  const { machine, ask, of, keybed, raw } = await small()
  ask({ type: 'watch', monitor: true })
  ask({
    type: 'load',
    text: JSON.stringify(raw)
      .replace('"keys","kind"', '"manual","kind"')
      .replace('"player":"keys"', '"player":"manual"'),
    rig: 'real',
  })
  await machine.timers.pass(1_000 * MS)
  keybed.deliver(Uint8Array.of(0x90, 64, 90))
  await machine.timers.pass(200 * MS)
  const ins = of('monitor').flatMap(({ events }) => events.filter(({ way }) => way === 'in'))
  expect(ins.map(({ source }) => source)).toEqual(['manual'])
})

// Learning.

test('learning hears the show’s port, which plays on, and others, which do not play', async () => {
  const { machine, ask, of, keybed } = await small()
  const pedals = machine.midiIn.plug('input', 'Pedals')
  ask({ type: 'learn' })
  keybed.deliver(Uint8Array.of(0x90, 64, 90))
  pedals.deliver(Uint8Array.of(0x93, 67, 90))
  await machine.timers.pass(100 * MS)
  expect(of('learned').map(({ port, channel, key }) => [port, channel, key])).toEqual([
    ['Keybed', 1, 64],
    ['Pedals', 4, 67],
  ])
  expect(keybed.ears.size).toBe(1)
  expect(
    of('lamps')
      .at(-1)
      ?.lamps.filter(({ on }) => on),
  ).toMatchObject([{ key: 64 }])
  ask({ type: 'dark-all' })
  pedals.deliver(Uint8Array.of(0x93, 68, 90))
  expect(of('learned')).toHaveLength(3)
  ask({ type: 'learn-end' })
  pedals.deliver(Uint8Array.of(0x93, 69, 90))
  keybed.deliver(Uint8Array.of(0x90, 69, 90))
  expect(of('learned')).toHaveLength(3)
  expect([pedals.ears.size, keybed.ears.size]).toEqual([0, 1])
})

test('an edit gives the learned port to a player while learning goes on; a load ends it', async () => {
  const { machine, ask, of, raw } = await small()
  const pedals = machine.midiIn.plug('input', 'Pedals')
  ask({ type: 'learn' })
  const text = JSON.stringify(raw).replace('"Keybed"', '"Pedals"')
  ask({ type: 'revise', text })
  await machine.timers.pass(3_000 * MS)
  pedals.deliver(Uint8Array.of(0x90, 62, 90))
  await machine.timers.pass(100 * MS)
  expect(
    of('lamps')
      .at(-1)
      ?.lamps.filter(({ on }) => on),
  ).toMatchObject([{ key: 62 }])
  expect(of('learned')).toMatchObject([{ port: 'Pedals', key: 62 }])
  expect(pedals.ears.size).toBe(1)
  ask({ type: 'load', text, rig: 'real' })
  await machine.timers.pass(1_000 * MS)
  pedals.deliver(Uint8Array.of(0x90, 64, 90))
  expect(of('learned')).toHaveLength(1)
})

test('nobody learns from the players in memory', async () => {
  const { machine, ask, of } = await demo()
  const stand = machine.midiIn.plug('input', 'Stand')
  ask({ type: 'learn' })
  await machine.timers.pass(5_000 * MS)
  stand.deliver(Uint8Array.of(0x90, 62, 90))
  expect(of('learned').map(({ port }) => port)).toEqual(['Stand'])
})
