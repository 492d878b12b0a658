import { expect, test } from 'vitest'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import { startEngine } from '../../support/engine-run.ts'
import type { Json, RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const on = (key: number): Uint8Array => Uint8Array.of(0x90, key, 100)
const off = (key: number): Uint8Array => Uint8Array.of(0x80, key, 64)

function song(id: string, lamps: readonly string[], more: RawShow = {}): RawShow {
  const part = { id: 'lead', player: 'keys', lamps: [...lamps], strategy: { kind: 'lowest-free' } }
  return { id, title: id, parts: [part], ...more }
}

const SONGS = [song('tide', ['fern', 'moss']), song('dew', ['sedge']), song('mist', ['reed'])]

function show(overrides: RawShow = {}): RawShow {
  return glasshouse({ songs: SONGS, setList: ['tide', 'dew', 'mist'], ...overrides })
}

const text = (raw: RawShow): string => JSON.stringify(raw)

async function playing(raw = show()) {
  const run = startEngine(validShow(raw))
  const { machine, ask } = run
  const keybed = machine.midiIn.plug('input', 'Keybed')
  ask({ v: 1, type: 'load', text: text(raw), rig: 'real', request: 1 })
  await machine.timers.pass(350 * MS)
  const box = machine.boxes.get('wire')
  if (!box) throw new Error('no box')
  const lit = (): number[] => box.lamps().flatMap((lamp, slot) => (lamp.on ? [slot] : []))
  const revise = (edited: RawShow | string, request?: number): void =>
    ask({
      v: 1,
      type: 'revise',
      text: typeof edited === 'string' ? edited : text(edited),
      ...(request === undefined ? {} : { request }),
    })
  const pass = (ms: number): Promise<void> => machine.timers.pass(ms * MS)
  const opens = (): number => machine.serial.opens
  return { ...run, keybed, lit, revise, pass, opens }
}

const answers = (said: readonly FromEngine[]) =>
  said.flatMap((one) =>
    one.type === 'loaded'
      ? [`${one.request} loaded ${one.song} ${one.position}`]
      : one.type === 'load-failed'
        ? [`${one.request} failed`]
        : [],
  )

test('an edit of another song, the set list or the title interrupts nothing', async () => {
  const { revise, keybed, lit, pass, opens, of } = await playing()
  keybed.deliver(on(60))
  await pass(100)
  const told = of('lamps').length
  revise(
    show({
      title: 'Second night',
      songs: [song('tide', ['fern', 'moss'], { title: 'Tide table' }), song('dew', ['moss'], { tempo: 90 })],
      setList: ['dew', 'tide'],
    }),
    2,
  )
  await pass(20)
  expect(lit()).toEqual([0])
  await pass(100)
  expect(of('lamps')).toHaveLength(told)
  expect(of('loaded').at(-1)).toEqual({
    v: 1,
    type: 'loaded',
    title: 'Second night',
    song: 'tide',
    position: 1,
    songs: ['tide', 'dew'],
    request: 2,
  })
  expect(of('dark')).toEqual([])
  expect(opens()).toBe(1)
  keybed.deliver(off(60))
  await pass(10)
  expect(lit()).toEqual([])
})

test('a song that changed while it plays goes dark and begins anew; what was held is over, and its end harmless', async () => {
  const { revise, keybed, lit, pass, opens, of } = await playing()
  keybed.deliver(on(60))
  keybed.deliver(on(64))
  await pass(10)
  expect(lit()).toEqual([0, 1])
  revise(show({ songs: [song('tide', ['reed', 'sedge']), ...SONGS.slice(1)] }))
  await pass(10)
  expect(lit()).toEqual([])
  keybed.deliver(off(60))
  keybed.deliver(on(67))
  await pass(10)
  expect(lit()).toEqual([2])
  keybed.deliver(off(64))
  keybed.deliver(off(67))
  await pass(10)
  expect(lit()).toEqual([])
  expect(opens()).toBe(1)
  expect(of('diagnostic')).toEqual([])
})

test('its tuning changed: it sounds by the new one; another tuning changed: nothing', async () => {
  const tunings = (refHz: number, other: number): Json => [
    { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz },
    { id: 'spare', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: other },
  ]
  const songs = SONGS.map((one) => ({ ...one, tuning: 'even' }))
  const { revise, keybed, lit, pass, machine } = await playing(show({ songs, tunings: tunings(440, 430) }))
  keybed.deliver(on(69))
  await pass(10)
  revise(show({ songs, tunings: tunings(440, 415) }))
  await pass(10)
  expect(lit()).toEqual([0])
  revise(show({ songs, tunings: tunings(432, 415) }))
  await pass(10)
  const hz = (lamp: number) => machine.boxes.get('wire')?.lamps()[lamp]?.hz
  expect(lit()).toEqual([0])
  expect(hz(0)).toBeCloseTo(432, 1)
  keybed.deliver(off(69))
  keybed.deliver(on(57))
  await pass(10)
  // An octave below the 432 Hz that key 69 is tuned to.
  expect(hz(lit()[0] ?? -1)).toBeCloseTo(216, 1)
})

test('a pedal that is down stays down through the edit', async () => {
  const { revise, keybed, lit, pass } = await playing()
  keybed.deliver(Uint8Array.of(0xb0, 64, 127))
  revise(show({ songs: [song('tide', ['reed']), ...SONGS.slice(1)] }))
  keybed.deliver(on(60))
  keybed.deliver(off(60))
  await pass(10)
  expect(lit()).toEqual([2])
  keybed.deliver(Uint8Array.of(0xb0, 64, 0))
  await pass(10)
  expect(lit()).toEqual([])
})

test('the song that plays is taken out: the one that stands there now plays, from dark', async () => {
  const { revise, keybed, lit, pass, ask, of } = await playing()
  ask({ v: 1, type: 'go', to: 'next' })
  keybed.deliver(on(60))
  await pass(10)
  expect(lit()).toEqual([3])
  revise(show({ songs: [SONGS[0] ?? {}, SONGS[2] ?? {}], setList: ['tide', 'mist'] }))
  await pass(10)
  expect(lit()).toEqual([])
  expect(of('loaded').at(-1)).toMatchObject({ song: 'mist', position: 1 })
  keybed.deliver(on(62))
  await pass(10)
  expect(lit()).toEqual([2])
})

test('another rig: dark, ports opened anew, the same song at the same place', async () => {
  const { revise, keybed, lit, pass, opens, ask, of } = await playing()
  ask({ v: 1, type: 'go', to: 'next' })
  keybed.deliver(on(60))
  await pass(10)
  const raw = show()
  const rig = raw.rig as { lamps: RawShow[] }
  rig.lamps = rig.lamps.map((lamp) => ({ ...lamp, watts: 5 }))
  revise(raw)
  await pass(400)
  expect(lit()).toEqual([])
  expect(opens()).toBe(2)
  expect(of('loaded').at(-1)).toMatchObject({ song: 'dew', position: 1 })
  keybed.deliver(on(62))
  await pass(10)
  expect(lit()).toEqual([3])
})

test('names, and where lamps hang, are no other rig', async () => {
  const { revise, keybed, lit, pass, opens } = await playing()
  keybed.deliver(on(60))
  await pass(10)
  const raw = show({ players: [{ id: 'keys', name: 'Ada', kind: 'keys', input: { port: 'Keybed' } }] })
  const rig = raw.rig as { lamps: RawShow[] }
  rig.lamps = rig.lamps.map((lamp, x) => ({ ...lamp, name: `Bed ${x}`, x: 7 - x, y: 2 }))
  revise(raw)
  await pass(400)
  expect(lit()).toEqual([0])
  expect(opens()).toBe(1)
})

test('an edit that cannot be read changes nothing', async () => {
  const { revise, keybed, lit, pass, opens, said, of } = await playing()
  keybed.deliver(on(60))
  await pass(10)
  revise('{', 2)
  revise(show({ songs: [song('tide', ['nettle'])], setList: ['tide'] }), 3)
  await pass(400)
  expect(lit()).toEqual([0])
  expect(opens()).toBe(1)
  expect(answers(said)).toEqual(['1 loaded tide 0', '2 failed', '3 failed'])
  expect(of('load-failed').at(-1)?.message).toContain('nettle')
})

test('before a show is loaded there is nothing to edit', async () => {
  const run = startEngine(validShow(show()))
  run.ask({ v: 1, type: 'revise', text: text(show()), request: 4 })
  await run.machine.timers.pass(1 * MS)
  expect(answers(run.said)).toEqual(['4 failed'])
})

test('edits in quick succession, some of the rig, some bad, end in the last that can be read', async () => {
  const { revise, keybed, lit, pass, opens, said, ask } = await playing()
  const rigged = (watts: number, lamps: string[]): RawShow => {
    const raw = show({ songs: [song('tide', lamps), ...SONGS.slice(1)] })
    const rig = raw.rig as { lamps: RawShow[] }
    rig.lamps = rig.lamps.map((lamp) => ({ ...lamp, watts }))
    return raw
  }
  keybed.deliver(on(60))
  revise(rigged(1, ['moss']), 2)
  revise(rigged(2, ['reed']), 3)
  revise('{', 4)
  revise(rigged(3, ['sedge']), 5)
  revise('[', 6)
  ask({ v: 1, type: 'go', to: 'next' })
  ask({ v: 1, type: 'go', to: 'previous' })
  await pass(900)
  // The first was under way when the others came; of those only the last that can be read is played.
  expect(answers(said)).toEqual(['1 loaded tide 0', '2 loaded tide 0', '6 failed', '5 loaded tide 0'])
  expect(opens()).toBe(3)
  keybed.deliver(on(62))
  await pass(10)
  expect(lit()).toEqual([3])
})

test('dark-all does not wait for an edit that takes its time, and stop ends what comes after it', async () => {
  const { revise, keybed, lit, pass, said, ask, opens, ended } = await playing()
  keybed.deliver(on(60))
  await pass(10)
  const raw = show()
  const rig = raw.rig as { lamps: RawShow[] }
  rig.lamps = rig.lamps.map((lamp) => ({ ...lamp, watts: 5 }))
  revise(raw, 2)
  ask({ v: 1, type: 'dark-all' })
  ask({ v: 1, type: 'stop' })
  ask({ v: 1, type: 'stop' })
  await pass(900)
  expect(lit()).toEqual([])
  expect(answers(said)).toEqual(['1 loaded tide 0'])
  expect(said.at(-1)).toEqual({ v: 1, type: 'stopped', clean: true })
  expect(said.filter(({ type }) => type === 'stopped')).toHaveLength(1)
  expect(ended()).toBe(1)
  expect(opens()).toBe(1)
})

test('with lamps in memory too the rig is another after an edit of it', async () => {
  const raw = show()
  const run = startEngine(validShow(raw))
  const keybed = run.machine.midiIn.plug('input', 'Keybed')
  run.ask({ v: 1, type: 'load', text: text(raw), rig: 'virtual', position: 2 })
  await run.machine.timers.pass(350 * MS)
  const rig = raw.rig as { lamps: RawShow[] }
  rig.lamps.push({ id: 'iris', output: 'wire', slot: 9, supply: 'bench', watts: 1 })
  run.ask({
    v: 1,
    type: 'revise',
    text: text({
      ...raw,
      songs: SONGS.map((one) => ({
        ...one,
        parts: [{ id: 'lead', player: 'keys', lamps: ['iris'], strategy: { kind: 'unison' } }],
      })),
    }),
  })
  await run.machine.timers.pass(700 * MS)
  keybed.deliver(on(60))
  await run.machine.timers.pass(50 * MS)
  expect(run.of('loaded').at(-1)).toMatchObject({ song: 'mist', position: 2 })
  expect(run.of('lamps').at(-1)?.lamps.at(-1)).toMatchObject({ lamp: 'iris', on: true, key: 60 })
  expect(run.machine.serial.opens).toBe(0)
})

test('the answer about ports of one name counts after an edit of the rig as well', async () => {
  const raw = show()
  const run = startEngine(validShow(raw))
  const { machine, ask, of } = run
  machine.midiIn.plug('input', 'Keybed')
  const second = machine.midiIn.plug('input', 'Keybed')
  ask({ v: 1, type: 'load', text: text(raw), rig: 'real' })
  await machine.timers.pass(350 * MS)
  const states = (): string[] => of('port').flatMap(({ port }) => (port.id === 'keys' ? [port.state] : []))
  expect(states()).toEqual(['ambiguous'])
  ask({ v: 1, type: 'choose-port', port: 'keys', place: 1 })
  expect(states()).toEqual(['ambiguous', 'open'])
  const rig = raw.rig as { lamps: RawShow[] }
  rig.lamps = rig.lamps.map((lamp) => ({ ...lamp, watts: 5 }))
  ask({ v: 1, type: 'revise', text: text(raw) })
  await machine.timers.pass(700 * MS)
  expect(states()).toEqual(['ambiguous', 'open', 'open'])
  second.deliver(on(60))
  await machine.timers.pass(10 * MS)
  expect(machine.boxes.get('wire')?.lamps()[0]?.on).toBe(true)
})
