import { describe, expect, test } from 'vitest'
import { startEngine } from '../../support/engine-run.ts'
import { startSession } from '../../support/memory-machine.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const CLOCK = Uint8Array.of(0xf8)
const START = Uint8Array.of(0xfa)
const STOP = Uint8Array.of(0xfc)

/** Five steps against four, moved by the clock from the song's beginning. */
function fiveAgainstFour(clock: RawShow, more: RawShow = {}) {
  const pattern = {
    id: 'five',
    advance: 'clock',
    division: '1/16',
    rows: [
      { lamp: 'fern', steps: [60, 62, 64, 65, 67] },
      { lamp: 'moss', steps: [48, 0, 0, 0] },
    ],
  }
  const strategy = { kind: 'steps', starts: 'song' }
  const grid = { id: 'grid', player: 'keys', lamps: ['fern', 'moss'], strategy }
  const song = { id: 'tide', title: 'Tide table', tempo: 97.0625, parts: [grid], patterns: [pattern] }
  return glasshouse({ clock, songs: [song], ...more } as never)
}

describe('a clock that is followed', () => {
  test('moves a pattern by its count for 10,000 steps, whatever its jitter: five and four meet every 20', async () => {
    const { session, machine, of } = startSession(validShow(fiveAgainstFour({ follow: 'Drum tower' })))
    const tower = machine.midiIn.plug('input', 'Drum tower')
    session.start()
    await machine.timers.pass(500_000)
    tower.deliver(START)
    let sent = 0
    let meetings = 0
    for (let step = 0; step < 10_000; step++) {
      for (let clock = 0; clock < 6; clock++) {
        // About 240 beats a minute; now and then two at one time, and one that is late.
        machine.timers.run(sent % 7 === 3 ? 0 : sent % 11 === 5 ? 24_000 : 9_000 + ((sent * 7919) % 3_000))
        tower.deliver(CLOCK)
        sent++
      }
      // Told thirty times a second: one step in three is.
      const { rows } = of('steps').at(-1)?.parts[0] ?? {}
      if (step % 20 === 0) {
        machine.timers.run(34_000)
        // Common practice, no source: rows of 5 and 4 steps meet every 20 steps.
        if (
          of('steps')
            .at(-1)
            ?.parts[0]?.rows.every((row) => row === 0)
        )
          meetings++
      }
      const near = [step % 5, (step + 4) % 5, (step + 3) % 5, (step + 2) % 5]
      expect(rows === undefined || near.includes(rows[0] ?? -1)).toBe(true)
    }
    expect(sent).toBe(60_000)
    expect(meetings).toBe(10_000 / 20)
    tower.deliver(STOP)
    await machine.timers.pass(1_000_000)
    expect(
      of('lamps')
        .at(-1)
        ?.lamps.filter(({ on }) => on),
    ).toEqual([])
    expect(of('time').at(-1)).toMatchObject({ isFollowed: true, isRunning: false })
  })

  test('is told with its tempo, is missed when it does not come, and passed on to who is sent one', async () => {
    const show = validShow(fiveAgainstFour({ follow: 'Drum tower', send: ['Lamp hall'] }))
    const { session, machine, of, states } = startSession(show)
    const hall = machine.midiOut.plug('output', 'Lamp hall')
    session.start()
    await machine.timers.pass(300_000)
    expect(states('clock in')).toEqual(['missing'])
    const tower = machine.midiIn.plug('input', 'Drum tower')
    await machine.timers.pass(1_000_000)
    expect(states('clock in').at(-1)).toBe('open')
    expect(of('time').at(-1)).toMatchObject({ isQuiet: true })
    tower.deliver(START)
    for (let count = 0; count < 96; count++) {
      tower.deliver(CLOCK)
      await machine.timers.pass(20_833)
    }
    // 20,833 microseconds a clock are 120.002 beats a minute.
    expect(of('time').at(-1)).toMatchObject({ beat: 3, tempo: 120, isQuiet: false, isRunning: true })
    expect(hall.sent.map(({ bytes }) => bytes[0])).toEqual([0xfa, ...Array.from({ length: 96 }, () => 0xf8)])
    await machine.timers.pass(2_000_000)
    expect(of('time').at(-1)).toMatchObject({ isQuiet: true })
    expect(
      of('lamps')
        .at(-1)
        ?.lamps.filter(({ on }) => on),
    ).toEqual([])
  })
})

describe('the tempo of a song', () => {
  test('is kept to four decimals, set, tapped and stopped, on the lamps and at who is sent a clock', async () => {
    const { machine, ask, of } = startEngine(validShow(fiveAgainstFour({ send: ['Lamp hall'] })))
    const hall = machine.midiOut.plug('output', 'Lamp hall')
    ask({ v: 1, type: 'load', text: JSON.stringify(fiveAgainstFour({ send: ['Lamp hall'] })), rig: 'real' })
    await machine.timers.pass(1_500_000)
    expect(of('time').at(-1)).toMatchObject({ tempo: 97.0625, isFollowed: false, isRunning: true })
    ask({ v: 1, type: 'tempo', bpm: 137.12341 })
    await machine.timers.pass(100_000)
    expect(of('time').at(-1)).toMatchObject({ tempo: 137.1234 })
    const before = hall.sent.length
    await machine.timers.pass(60_000_000)
    expect(Math.abs(hall.sent.length - before - 137.1234 * 24)).toBeLessThanOrEqual(1)

    ask({ v: 1, type: 'tap' })
    await machine.timers.pass(600_000)
    ask({ v: 1, type: 'tap' })
    await machine.timers.pass(100_000)
    expect(of('time').at(-1)).toMatchObject({ tempo: 100 })

    ask({ v: 1, type: 'beats', do: 'stop' })
    await machine.timers.pass(100_000)
    const stood = of('time').at(-1)
    expect(stood).toMatchObject({ isRunning: false })
    expect(
      of('lamps')
        .at(-1)
        ?.lamps.filter(({ on }) => on),
    ).toEqual([])
    await machine.timers.pass(3_000_000)
    expect(of('time').at(-1)).toEqual(stood)
    expect(
      of('lamps')
        .at(-1)
        ?.lamps.filter(({ on }) => on),
    ).toEqual([])
    ask({ v: 1, type: 'beats', do: 'go-on' })
    await machine.timers.pass(650_000)
    expect(of('time').at(-1)?.beat).toBeGreaterThan(stood?.beat ?? Infinity)
    ask({ v: 1, type: 'beats', do: 'start' })
    await machine.timers.pass(100_000)
    expect(of('time').at(-1)).toMatchObject({ beat: 0, isRunning: true })
  })

  test('is tapped by a control', async () => {
    const controls = [{ player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'tap' }]
    const { session, machine, of } = startSession(
      validShow(fiveAgainstFour({}, { switching: { controls } } as RawShow)),
    )
    const keybed = machine.midiIn.plug('input', 'Keybed')
    session.start()
    await machine.timers.pass(400_000)
    for (let tap = 0; tap < 4; tap++) {
      keybed.deliver(Uint8Array.of(0xb0, 80, 127))
      await machine.timers.pass(100_000)
      keybed.deliver(Uint8Array.of(0xb0, 80, 0))
      await machine.timers.pass(300_000)
    }
    expect(of('time').at(-1)).toMatchObject({ tempo: 150 })
  })
})

describe('after the machine slept', () => {
  // 97.0625 beats a minute are 19 sixteenths in three seconds.
  test.each([
    { afterSleep: 'stop', isRunning: false, least: 0, most: 1 },
    { afterSleep: 'go-on', isRunning: true, least: 11, most: 22 },
  ])(
    '$afterSleep: nothing that was missed comes in a burst',
    async ({ afterSleep, isRunning, least, most }) => {
      const { session, machine, of } = startSession(validShow(fiveAgainstFour({ afterSleep })))
      session.start()
      await machine.timers.pass(2_000_000)
      const before = of('time').at(-1)?.beat ?? -1
      session.sleep()
      machine.timers.skip(60_000_000)
      session.awake()
      const { length } = of('steps')
      await machine.timers.pass(50_000)
      // Where it stands, and a step that was just to come.
      expect(of('steps').length - length).toBeLessThanOrEqual(2)
      await machine.timers.pass(3_000_000)
      expect(of('time').at(-1)).toMatchObject({ isRunning })
      expect(of('time').at(-1)?.beat ?? 0).toBeLessThan(before + 7)
      const told = of('steps').length - length
      expect(told).toBeGreaterThanOrEqual(least)
      expect(told).toBeLessThanOrEqual(most)
      const lit = of('lamps')
        .at(-1)
        ?.lamps.filter(({ on }) => on)
      expect(isRunning || lit?.length === 0).toBe(true)
    },
  )
})
