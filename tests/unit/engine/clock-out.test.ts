import { describe, expect, test } from 'vitest'
import type { MemoryDevice } from '../../../app/engine/ports/memory-device.ts'
import { startSession } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000

function shown(clock: Record<string, unknown>, outputs?: readonly Record<string, unknown>[]) {
  const part = { id: 'lead', player: 'keys', lamps: ['fern', 'moss', 'reed', 'sedge'] }
  const strategy = { kind: 'lowest-free' }
  const show = glasshouse({
    clock,
    songs: [
      { id: 'tide', title: 'Tide table', tempo: 120, parts: [{ ...part, strategy }] },
      { id: 'mist', title: 'Mist clock', tempo: 60, parts: [{ ...part, strategy }] },
    ],
    setList: ['tide', 'mist'],
  } as never) as unknown as { rig: { outputs: unknown; lamps: { output: string }[] } }
  if (outputs) {
    show.rig.outputs = outputs
    for (const lamp of show.rig.lamps) lamp.output = 'din'
  }
  return validShow(show as never)
}

/** What a device got, each message as text in hex; clocks in a row as how many there were. */
function heard({ sent }: MemoryDevice, from = 0): string[] {
  const words: string[] = []
  let clocks = 0
  for (const { bytes } of sent.slice(from)) {
    const text = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(' ')
    if (text === 'f8') {
      clocks++
      continue
    }
    if (clocks > 0) words.push(`${clocks} clocks`)
    clocks = 0
    words.push(text)
  }
  return clocks > 0 ? [...words, `${clocks} clocks`] : words
}

function begun(clock: Record<string, unknown>, outputs?: readonly Record<string, unknown>[]) {
  const run = startSession(shown(clock, outputs))
  const keybed = run.machine.midiIn.plug('input', 'Keybed')
  return { ...run, keybed, pass: (ms: number) => run.machine.timers.pass(ms * MS) }
}

describe('the clock that ports are sent', () => {
  test('goes on at the tempo of the song, starts with each song, and stops with the engine', async () => {
    const { session, machine, pass } = begun({ send: ['Drum tower'] })
    const tower = machine.midiOut.plug('output', 'Drum tower')
    session.start()
    await pass(2_000)
    expect(heard(tower)[0]).toMatch(/clocks$/)
    const before = tower.sent.length
    session.ask({ to: 'next' })
    await pass(1_000)
    expect(heard(tower, before).slice(0, 3)).toEqual(['fc', 'fa', '24 clocks'])
    session.darkAll()
    await pass(1_000)
    expect(heard(tower, before).slice(0, 3)).toEqual(['fc', 'fa', '48 clocks'])
    const stopped = session.stop()
    await pass(100)
    await stopped
    expect(heard(tower, before)).toEqual(['fc', 'fa', '48 clocks', 'fc'])
  })

  test('is in time at a port that is there only later, and again after its cable was pulled', async () => {
    const { session, machine, states, pass } = begun({ send: ['Drum tower'] })
    session.start()
    const began = machine.timers.now()
    await pass(1_990)
    expect(states('clock Drum tower')).toEqual(['missing'])
    const tower = machine.midiOut.plug('output', 'Drum tower')
    await pass(3_000)
    expect(states('clock Drum tower').at(-1)).toBe('open')
    const first = tower.sent.findIndex(({ bytes }) => bytes[0] === 0xf2)
    const [, least = 0, most = 0] = [...(tower.sent[first]?.bytes ?? [])]
    expect([...(tower.sent[first + 1]?.bytes ?? [])]).toEqual([0xfb])
    // 120 beats a minute: a sixteenth is 125 ms; the clock after Continue is the one of that place.
    expect(tower.sent[first + 2]?.at).toBe(began + (least + 128 * most) * 125 * MS)
    machine.midiOut.pull('output', tower)
    await pass(1_000)
    expect(states('clock Drum tower').at(-1)).toBe('lost')
    const before = tower.sent.length
    machine.midiOut.replug('output', tower)
    await pass(1_000)
    expect(heard(tower, before).filter((word) => !word.includes('clocks'))).toEqual([
      expect.stringMatching(/^f2 /),
      'fb',
    ])
  })

  test('shares an open port with lamps', async () => {
    const { session, machine, keybed, said, pass } = begun({ send: ['Lamp box'] }, [
      { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' },
    ])
    const box = machine.midiOut.plug('output', 'Lamp box')
    session.start()
    await pass(1_000)
    keybed.deliver(Uint8Array.of(0x90, 60, 100))
    await pass(1_000)
    expect(box.open).toBe(1)
    expect(said.flatMap((message) => (message.type === 'port' ? [message.port.id] : []))).not.toContain(
      'clock Lamp box',
    )
    const words = heard(box)
    expect(words.some((word) => word.startsWith('9'))).toBe(true)
    expect(words).toContain('fb')
    const clocks = box.sent.filter(({ bytes }) => bytes[0] === 0xf8).map(({ at }) => at)
    const gaps = new Set(clocks.slice(1).map((at, place) => at - (clocks[place] ?? 0)))
    expect([...gaps].every((gap) => gap === 20_833 || gap === 20_834)).toBe(true)
  })

  test('that comes back in is neither a loop nor played', async () => {
    const { session, machine, keybed, states, of, pass } = begun({ send: ['Drum tower'] })
    const tower = machine.midiOut.plug('output', 'Drum tower')
    tower.onSent = (bytes) => void machine.timers.at(machine.timers.now() + MS, () => keybed.deliver(bytes))
    session.start()
    await pass(3_000)
    session.ask({ to: 'next' })
    await pass(3_000)
    expect(tower.sent.length).toBeGreaterThan(150)
    expect(states('keys').at(-1)).toBe('open')
    expect(of('diagnostic')).toEqual([])
    expect(of('lamps').flatMap(({ lamps }) => lamps.filter(({ on }) => on))).toEqual([])
  })
})

describe('after a sleep', () => {
  async function slept(afterSleep: string) {
    const run = begun({ send: ['Drum tower'], afterSleep })
    const tower = run.machine.midiOut.plug('output', 'Drum tower')
    run.session.start()
    await run.pass(2_000)
    const before = tower.sent.length
    run.session.sleep()
    run.machine.timers.skip(3_600_000 * MS)
    run.session.awake()
    const atOnce = heard(tower, before)
    await run.pass(1_000)
    const words = (): string[] => heard(tower, before).filter((word) => !word.includes('clocks'))
    return { ...run, atOnce, words }
  }

  test('the song stands still, where the show says so, until somebody strikes', async () => {
    const { keybed, atOnce, words, pass } = await slept('stop')
    expect(atOnce).toEqual(['fc'])
    expect(words()).toEqual(['fc'])
    keybed.deliver(Uint8Array.of(0x90, 60, 100))
    await pass(10)
    expect(words()).toEqual(['fc', 'fa'])
  })

  test('or until a song begins', async () => {
    const { session, words, pass } = await slept('stop')
    session.ask({ to: 'next' })
    await pass(10)
    expect(words()).toEqual(['fc', 'fa'])
  })

  test('or it goes on from where it stood', async () => {
    const { atOnce, words } = await slept('go-on')
    expect(atOnce).toEqual(['fc'])
    // It stood at 2 s, sixteenth 16; the port is open anew after some milliseconds, and is led on from the first that can be told.
    expect(words()).toEqual(['fc', expect.stringMatching(/^f2 1[1-3] 00$/), 'fb'])
  })

  test.each([
    ['stop', false],
    ['go-on', true],
  ])('of which nobody told: no burst, dark, then %s', async (afterSleep, goesOn) => {
    const { session, machine, keybed, of, pass } = begun({ send: ['Drum tower'], afterSleep })
    const tower = machine.midiOut.plug('output', 'Drum tower')
    session.start()
    await pass(2_000)
    keybed.deliver(Uint8Array.of(0x90, 60, 100))
    await pass(10)
    const before = tower.sent.length
    machine.timers.skip(3_600_000 * MS)
    await pass(1)
    expect(heard(tower, before)[0]).toBe('fc')
    expect(tower.sent.length - before).toBeLessThanOrEqual(2)
    expect(of('dark')).toHaveLength(1)
    await pass(1_000)
    const clocks = tower.sent.slice(before).filter(({ bytes }) => bytes[0] === 0xf8)
    expect(clocks.length).toBeLessThanOrEqual(49)
    expect(heard(tower, before).includes('fb')).toBe(goesOn)
  })

  test('what is played before a timer has noticed makes no burst either', async () => {
    const { session, machine, keybed, of, pass } = begun({ send: ['Drum tower'] })
    const tower = machine.midiOut.plug('output', 'Drum tower')
    session.start()
    await pass(2_000)
    const before = tower.sent.length
    machine.timers.skip(3_600_000 * MS)
    keybed.deliver(Uint8Array.of(0x90, 60, 100))
    expect(of('dark')).toHaveLength(1)
    expect(heard(tower, before)).toEqual(['fc', 'fa'])
  })

  test('a process held up for a second sends no burst, and leads who follows to where the song is', async () => {
    const { session, machine, of, pass } = begun({ send: ['Drum tower'] })
    const tower = machine.midiOut.plug('output', 'Drum tower')
    session.start()
    const began = machine.timers.now()
    await pass(2_000)
    const before = tower.sent.length
    machine.timers.skip(1_000 * MS)
    await pass(200)
    expect(of('dark')).toEqual([])
    const sent = tower.sent.slice(before)
    expect(sent.filter(({ bytes }) => bytes[0] === 0xf8).length).toBeLessThanOrEqual(10)
    const first = sent.findIndex(({ bytes }) => bytes[0] === 0xf2)
    expect([...(sent[0]?.bytes ?? [])]).toEqual([0xfc])
    expect(sent[first + 2]?.at).toBe(began + (sent[first]?.bytes[1] ?? 0) * 125 * MS)
  })
})
