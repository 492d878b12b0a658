import { closeSync, constants, openSync, writeSync } from 'node:fs'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { SerialDriverEvent } from '../../app/engine/ports/serial-driver-event.ts'
import { SerialDriver } from '../../app/engine/ports/serial-driver.ts'
import { realSerial } from '../../app/engine/ports/serial-real.ts'
import { systemTimers } from '../../app/engine/ports/serial-timers.ts'
import { serveBox, type ServedBox } from '../../app/engine/virtual-box/serve-box.ts'
import { lampsInSlots, TIMER_16MHZ, WIRE } from '../support/rig-outputs.ts'
import { darkChange, litChange } from '../support/link-line.ts'
import { PtyPair } from '../support/pty-pair.ts'
import { until } from '../support/until.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const timers = systemTimers(() => Math.round(performance.now() * 1000))
const LAMPS = 8

let ptys: PtyPair
let driver: SerialDriver
let served: ServedBox | undefined
let events: { readonly at: number; readonly event: SerialDriverEvent }[]

const kinds = (kind: SerialDriverEvent['kind']) => events.filter(({ event }) => event.kind === kind)
const rates = () => served?.box.lamps().map(({ rate }) => rate / 65536)
const serve = async () => {
  served = await serveBox(realSerial, ptys.box, timers, { lamps: LAMPS })
}

beforeEach(async () => {
  ptys = new PtyPair()
  await ptys.start()
  events = []
  driver = new SerialDriver({
    output: { ...WIRE, port: ptys.host },
    lamps: lampsInSlots(LAMPS),
    system: realSerial,
    timers,
    onEvent: (event) => events.push({ at: performance.now(), event }),
  })
})

afterEach(async () => {
  await driver.close()
  await served?.close()
  served = undefined
  await ptys.end()
})

test(
  'lamps follow over a real pty, by what the timer makes of them; closing leaves the box dark',
  REAL_PROCESSES,
  async () => {
    await serve()
    driver.start()
    await until('the box is ready', () => kinds('ready').length === 1)
    driver.changes([litChange(0, 440), litChange(7, 55, 0.25)])
    await until('two lamps are lit', () => served?.box.lamps().filter(({ on }) => on).length === 2)
    expect(served?.box.lamps()[0]?.hz).toBe(quantiseToTimer(440, TIMER_16MHZ)?.realHz)
    for (let time = 0; time < 2000; time++) {
      driver.changes([time % 3 === 0 ? darkChange(time % LAMPS) : litChange(time % LAMPS, 100 + time)])
      if (time % 20 === 0) await new Promise((done) => setImmediate(done))
    }
    driver.changes(Array.from({ length: LAMPS }, (_, index) => litChange(index, 100 * (index + 1))))
    await until(
      'all lamps are as last told',
      () => rates()?.every((hz, index) => hz === 100 * (index + 1)) ?? false,
    )
    expect(kinds('count')).toEqual([])
    expect(kinds('latency').length).toBeGreaterThan(3)
    await driver.close()
    expect(served?.box.lamps().some(({ on }) => on)).toBe(false)
  },
)

test(
  'a line that is cut is lost within 1 s; back, the port is reopened once, and the box has the full state',
  REAL_PROCESSES,
  async () => {
    await serve()
    driver.start()
    driver.changes([litChange(2, 220)])
    await until('the lamp is lit', () => rates()?.[2] === 220)
    const cutAt = performance.now()
    await ptys.kill()
    await until('the box is lost', () => kinds('lost').length === 1)
    expect((kinds('lost')[0]?.at ?? Infinity) - cutAt).toBeLessThan(1000)
    await served?.close()
    driver.changes([litChange(3, 330)])
    await until('the port is missed', () => kinds('not-open').length === 1)
    expect(kinds('not-open')[0]?.event).toMatchObject({ fault: 'absent' })
    await ptys.start()
    await serve()
    await until('the box is ready again', () => kinds('ready').length === 2)
    await until('the lamps are as they shall be', () => rates()?.[2] === 220 && rates()?.[3] === 330)
    expect(kinds('ready')[1]?.event).toMatchObject({ again: true })
    expect(kinds('opened')).toHaveLength(2)
    expect(kinds('lost')).toHaveLength(1)
  },
)

test(
  'a box that stops without its line is lost within 1 s, and greeted until it is there again',
  REAL_PROCESSES,
  async () => {
    await serve()
    driver.start()
    driver.changes([litChange(1, 110)])
    await until('the lamp is lit', () => rates()?.[1] === 110)
    const stoppedAt = performance.now()
    await served?.close()
    await until('the box is lost', () => kinds('lost').length === 1)
    expect((kinds('lost')[0]?.at ?? Infinity) - stoppedAt).toBeLessThan(1100)
    expect(kinds('lost')[0]?.event).toMatchObject({ portOpen: true })
    await serve()
    await until('the lamp is lit again', () => rates()?.[1] === 110)
    expect(kinds('opened')).toHaveLength(1)
  },
)

test(
  'a far end that nobody reads yet: nothing piles up, and the box gets the last state',
  REAL_PROCESSES,
  async () => {
    driver.start()
    await until('the port is open', () => kinds('opened').length === 1)
    for (let time = 0; time < 300; time++) {
      driver.darkAll()
      driver.changes([litChange(time % LAMPS, 100 + time)])
      await new Promise((done) => setTimeout(done, 1))
    }
    expect(driver.depth.bytes).toBeLessThan(1000)
    await serve()
    await until('the lamps are as last told', () => rates()?.[299 % LAMPS] === 399)
  },
)

test(
  'a write that does not finish is a port that is lost after 1 s; opened anew once the line takes bytes again',
  REAL_PROCESSES,
  async () => {
    driver.start()
    await until('the port is open', () => kinds('opened').length === 1)
    const stuffer = openSync(ptys.host, constants.O_WRONLY | constants.O_NONBLOCK | constants.O_NOCTTY)
    try {
      await fillLine(stuffer)
    } finally {
      closeSync(stuffer)
    }
    driver.changes([litChange(4, 440)])
    await until('the port is lost', () => kinds('lost').length === 1)
    expect(kinds('lost')[0]?.event).toMatchObject({ portOpen: false })
    await serve()
    await until('the lamp is lit', () => rates()?.[4] === 440)
    expect(driver.depth.bytes).toBeLessThan(1000)
  },
)

/** Until the line has taken nothing for a while. */
async function fillLine(to: number): Promise<void> {
  let lastTaken = performance.now()
  await until('the line is full', () => {
    try {
      writeSync(to, new Uint8Array(1024).fill(0x55))
      lastTaken = performance.now()
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error
    }
    return performance.now() - lastTaken > 100
  })
}

test('a port that another holds: plainly said, and taken once it is free', REAL_PROCESSES, async () => {
  await serve()
  const other = await realSerial.open(ptys.host, 500_000, { onBytes() {}, onWritten() {}, onClosed() {} })
  driver.start()
  await until('the port is refused', () => kinds('not-open').length === 1)
  expect(kinds('not-open')[0]?.event).toMatchObject({ fault: 'busy' })
  await other.close()
  await until('the box is ready', () => kinds('ready').length === 1)
})

test('a path that is no serial port says so', REAL_PROCESSES, async () => {
  await expect(
    realSerial.open('/nonexistent/tty', 500_000, { onBytes() {}, onWritten() {}, onClosed() {} }),
  ).rejects.toMatchObject({
    name: 'SerialOpenError',
    fault: 'absent',
  })
  expect(Array.isArray(await realSerial.list())).toBe(true)
})
