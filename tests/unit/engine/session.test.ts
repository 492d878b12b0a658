import { expect, test } from 'vitest'
import { validShow } from '../../support/valid-show.ts'
import { plugBox } from '../../../app/engine/virtual-box/plug-box.ts'
import { startSession } from '../../support/memory-machine.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'

const MS = 1_000
const on = (key: number, channel = 0): Uint8Array => Uint8Array.of(0x90 | channel, key, 100)
const off = (key: number, channel = 0): Uint8Array => Uint8Array.of(0x80 | channel, key, 64)

function band() {
  return validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
        outputs: [
          { id: 'wire', kind: 'serial', port: '/dev/box' },
          { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' },
        ],
        lamps: [
          ...GLASSHOUSE_LAMPS.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
          { id: 'orchid', output: 'din', slot: 0, supply: 'bench', watts: 10 },
        ],
      },
      players: [
        { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } },
        { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
      ],
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [
            { id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'lowest-free' } },
            { id: 'low', player: 'bass', lamps: ['reed', 'orchid'], strategy: { kind: 'unison' } },
          ],
        },
        {
          id: 'dew',
          title: 'Dew point',
          parts: [{ id: 'lead', player: 'keys', lamps: ['sedge'], strategy: { kind: 'unison' } }],
        },
      ],
    } as never),
  )
}

async function playing(options: { recover?: boolean } = {}) {
  const run = startSession(band(), options)
  const { machine } = run
  const keybed = machine.midiIn.plug('input', 'Keybed')
  const bass = machine.midiIn.plug('input', 'Bass')
  const lampBox = machine.midiOut.plug('output', 'Lamp box')
  run.session.start()
  await machine.timers.pass(350 * MS)
  const box = machine.boxes.get('wire')
  if (!box) throw new Error('no box')
  const lit = (): number[] => box.lamps().flatMap((lamp, slot) => (lamp.on ? [slot] : []))
  return { ...run, keybed, bass, lampBox, box, lit }
}

test('what is played lights lamps on serial and MIDI boxes', async () => {
  const { keybed, bass, lampBox, machine, lit, box } = await playing()
  keybed.deliver(on(69))
  bass.deliver(on(45))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0, 2])
  expect(box.lamps()[0]?.hz).toBeCloseTo(439.9956, 4)
  expect(lampBox.sent.map(({ bytes }) => Buffer.from(bytes).toString('hex'))).toContain('902d64')
  keybed.deliver(off(69))
  bass.deliver(off(45))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([])
  expect(lampBox.sent.at(-1)?.bytes[0]).toBe(0x80)
})

test('an input that goes takes its notes with it, at the next look, and leaves the others alone', async () => {
  const { keybed, bass, machine, lit, states } = await playing()
  keybed.deliver(on(60))
  keybed.deliver(on(64))
  bass.deliver(on(40))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0, 1, 2])
  machine.midiIn.pull('input', keybed)
  await machine.timers.pass(1_000 * MS)
  expect(lit()).toEqual([2])
  expect(states('keys').at(-1)).toBe('lost')
  expect(states('bass')).toEqual(['open'])
  machine.midiIn.replug('input', keybed)
  await machine.timers.pass(1_000 * MS)
  keybed.deliver(on(62))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0, 2])
})

test('a box that goes and comes back is given the full state', async () => {
  const { keybed, machine, lit, states } = await playing()
  keybed.deliver(on(60))
  await machine.timers.pass(10 * MS)
  machine.serial.unplug('/dev/box')
  await machine.timers.pass(1_000 * MS)
  expect(states('wire')).toContain('lost')
  // Its own watchdog, since nobody beats any more.
  expect(lit()).toEqual([])
  keybed.deliver(on(64))
  const again = plugBox(machine.serial, { path: '/dev/box', serialNumber: 'wire' }, machine.timers)
  await machine.timers.pass(3_000 * MS)
  expect(states('wire').at(-1)).toBe('ready')
  expect(machine.serial.opens).toBe(2)
  expect(again.box.lamps().flatMap((lamp, slot) => (lamp.on ? [slot] : []))).toEqual([0, 1])
})

test('dark-all reaches every output at once', async () => {
  const { session, keybed, bass, lampBox, machine, lit, of } = await playing()
  keybed.deliver(on(60))
  bass.deliver(on(40))
  await machine.timers.pass(10 * MS)
  lampBox.sent.length = 0
  session.darkAll()
  expect(Buffer.from(lampBox.sent[0]?.bytes ?? []).toString('hex')).toBe('802840')
  await machine.timers.pass(1 * MS)
  expect(lit()).toEqual([])
  expect(of('dark')).toHaveLength(1)
  keybed.deliver(on(62))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0])
})

test('a song is changed with all lamps dark; one that is not there is refused', async () => {
  const { session, keybed, machine, lit, of } = await playing()
  keybed.deliver(on(60))
  await machine.timers.pass(10 * MS)
  session.ask({ to: 'song', song: 'dew' })
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([])
  keybed.deliver(on(62))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([3])
  expect(of('song').map(({ song }) => song)).toEqual(['dew'])
  expect(() => session.ask({ to: 'song', song: 'none' })).toThrow(/no song "none"/)
})

test('after a crash the lamps of a MIDI box are ended before anything else', async () => {
  const { lampBox } = await playing({ recover: true })
  expect(lampBox.sent.slice(0, 2).map(({ bytes }) => Buffer.from(bytes).toString('hex'))).toEqual([
    'b07800',
    'b07b00',
  ])
})

test('a MIDI box whose cable was out while a note on it ended is darkened when the cable is back', async () => {
  const { machine, bass, lampBox } = await playing()
  bass.deliver(on(45))
  await machine.timers.pass(10 * MS)
  machine.midiOut.pull('output', lampBox)
  await machine.timers.pass(1_100 * MS)
  bass.deliver(off(45))
  await machine.timers.pass(100 * MS)
  const sent = lampBox.sent.length
  machine.midiOut.replug('output', lampBox)
  await machine.timers.pass(1_100 * MS)
  const back = lampBox.sent.slice(sent).map(({ bytes }) => Buffer.from(bytes).toString('hex'))
  expect(back.slice(0, 2)).toEqual(['b07800', 'b07b00'])
  expect(back.filter((message) => message.startsWith('9'))).toEqual([])
})

test('stop darkens every lamp and lets the ports go', async () => {
  const { session, keybed, bass, machine, lit } = await playing()
  keybed.deliver(on(60))
  bass.deliver(on(40))
  await machine.timers.pass(10 * MS)
  const stopped = session.stop()
  await machine.timers.pass(300 * MS)
  expect(await stopped).toBe(true)
  expect(lit()).toEqual([])
  expect(machine.midiIn.inputs()).toContain('Keybed')
  keybed.deliver(on(61))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([])
})

test('lamps are told after a change, and figures once a second', async () => {
  const { keybed, machine, of } = await playing()
  await machine.timers.pass(1_000 * MS)
  const before = of('lamps').length
  await machine.timers.pass(1_000 * MS)
  expect(of('lamps')).toHaveLength(before)
  keybed.deliver(on(69))
  await machine.timers.pass(40 * MS)
  expect(of('lamps').at(-1)?.lamps[0]).toMatchObject({ lamp: 'fern', on: true, key: 69, hz: 440 })
  await machine.timers.pass(1_000 * MS)
  expect(of('figures').at(-1)?.latency.count).toBe(1)
  expect(of('figures').length).toBeGreaterThanOrEqual(3)
})

test('our own output coming back in is cut within 50 ms, its notes end, and others play on', async () => {
  const { keybed, bass, lampBox, machine, lit, states, session, said } = await playing()
  keybed.deliver(on(60))
  // A cable from the lamp box's output into the bass input, 1 ms long.
  let came = 0
  const began = machine.timers.now()
  let cutAt = 0
  const relay = (): void => {
    const back = lampBox.sent.slice(came)
    came = lampBox.sent.length
    for (const { bytes } of back) bass.deliver(bytes)
    if (cutAt === 0 && states('bass').includes('cut')) cutAt = machine.timers.now()
    if (machine.timers.now() < began + 400 * MS) machine.timers.at(machine.timers.now() + MS, relay)
  }
  came = lampBox.sent.length
  bass.deliver(on(40))
  machine.timers.at(began + MS, relay)
  await machine.timers.pass(500 * MS)
  expect(cutAt).toBeGreaterThan(0)
  expect(cutAt - began).toBeLessThan(50 * MS)
  expect(lit()).toEqual([0])
  expect(said.filter((message) => message.type === 'port' && message.port.state === 'cut')).toHaveLength(1)
  bass.deliver(on(45))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0])
  session.listenAgain('bass')
  bass.deliver(on(47))
  await machine.timers.pass(10 * MS)
  expect(lit()).toEqual([0, 2])
})

test('screens are told whose claim a lamp is under, lit or dark, also where no lamp changes', async () => {
  const show = band()
  const [song, ...others] = show.songs
  if (!song) throw new Error('no song')
  const [lead, low] = song.parts
  if (!lead || !low) throw new Error('no parts')
  const claim = { when: 'playing', releaseMs: 300, priority: 0 } as const
  const claiming = {
    ...low,
    lamps: ['fern', 'reed'],
    strategy: { ...low.strategy },
    notes: [0, 40] as const,
    claim,
  }
  const run = startSession({ ...show, songs: [{ ...song, parts: [lead, claiming] }, ...others] })
  const { machine, said } = run
  const bass = machine.midiIn.plug('input', 'Bass')
  run.session.start()
  await machine.timers.pass(400 * MS)
  const claimed = () => {
    const told = said.findLast((word) => word.type === 'lamps')
    return told?.lamps.flatMap(({ lamp, on, claimedBy }) => (claimedBy ? [`${lamp} ${claimedBy} ${on}`] : []))
  }
  expect(claimed()).toEqual([])
  bass.deliver(on(28))
  await machine.timers.pass(50 * MS)
  expect(claimed()).toEqual(['fern low true', 'reed low true'])
  bass.deliver(off(28))
  await machine.timers.pass(100 * MS)
  expect(claimed()).toEqual(['fern low false', 'reed low false'])
  const before = said.filter(({ type }) => type === 'lamps').length
  await machine.timers.pass(150 * MS)
  expect(said.filter(({ type }) => type === 'lamps')).toHaveLength(before)
  await machine.timers.pass(150 * MS)
  expect(claimed()).toEqual([])
  expect(said.filter(({ type }) => type === 'lamps')).toHaveLength(before + 1)
})
