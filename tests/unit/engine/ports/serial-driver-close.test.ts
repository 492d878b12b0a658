import { expect, test } from 'vitest'
import type { TimerSpec } from '../../../../src/domain/rig.ts'
import { change, lit } from '../../../support/rig-outputs.ts'
import { driverRun, eventsOf, isLit } from '../../../support/driver-run.ts'
import { litChange } from '../../../support/link-line.ts'

const MS = 1000

async function playing(options: Parameters<typeof driverRun>[0] = {}) {
  const run = driverRun({ lamps: 2, ...options })
  run.driver.changes([litChange(0, 440)])
  run.driver.start()
  await run.timers.pass(500 * MS)
  expect(isLit(run)).toEqual([true, false])
  return run
}

test('closing darkens the box and waits for its word, then lets the port go', async () => {
  const run = await playing()
  run.port.writeMs = 20
  let isClosed = false
  const closed = run.driver.close().then(() => (isClosed = true))
  await run.timers.pass(15 * MS)
  expect([isClosed, run.port.isOpen]).toEqual([false, true])
  await run.timers.pass(60 * MS)
  await closed
  expect(isLit(run)).toEqual([false, false])
  expect(run.port.isOpen).toBe(false)
  expect(eventsOf(run, 'lost')).toEqual([])
  await run.timers.pass(5000 * MS)
  expect(run.system.opens).toBe(1)
  expect(run.timers.size).toBe(0)
})

test('closing waits 250 ms at most for a port that takes nothing', async () => {
  const run = await playing()
  run.port.isStalled = true
  await run.timers.pass(100 * MS)
  let isClosed = false
  void run.driver.close().then(() => (isClosed = true))
  await run.timers.pass(245 * MS)
  expect(isClosed).toBe(false)
  await run.timers.pass(10 * MS)
  expect(isClosed).toBe(true)
})

test('closing while there is no port, or while it is looked for, is quick; and it can start again', async () => {
  const run = driverRun()
  run.port.refusal = 'busy'
  run.driver.start()
  await run.timers.pass(100 * MS)
  await run.driver.close()
  run.port.refusal = undefined
  await run.timers.pass(5000 * MS)
  expect(run.system.opens).toBe(0)
  run.driver.start()
  await run.timers.pass(500 * MS)
  expect(run.driver.state).toBe('ready')
})

test('dark-all goes out while a write is under way and lights wait behind it', async () => {
  const run = await playing()
  run.port.writeMs = 40
  run.driver.changes([litChange(0, 300)])
  run.driver.changes([litChange(1, 300)])
  run.driver.darkAll()
  await run.timers.pass(95 * MS)
  expect(isLit(run)).toEqual([false, false])
  await run.timers.pass(2000 * MS)
  expect(isLit(run)).toEqual([false, false])
})

test('a lamp resolved for MIDI is a fault in words; the lamps go dark, and the next changes are taken', async () => {
  const run = await playing()
  run.driver.changes([change(1, lit({ drive: { kind: 'bend', key: 60, bend: 8192 } }))])
  await run.timers.pass(20 * MS)
  expect(eventsOf(run, 'fault')[0]?.message).toContain('slot 1')
  expect(isLit(run)).toEqual([false, false])
  run.driver.changes([litChange(1, 440)])
  await run.timers.pass(20 * MS)
  expect(isLit(run)).toEqual([false, true])
})

test('the box’s timer is handed on, and what differs is told', async () => {
  const timer: TimerSpec = { clockHz: 8_000_000, prescalers: [1, 8, 64], bits: 16 }
  const heard: TimerSpec[] = []
  const run = driverRun({ box: { timer }, driver: { setTimer: (spec) => heard.push(spec) } })
  run.driver.start()
  await run.timers.pass(200 * MS)
  expect(heard).toEqual([timer])
  expect(eventsOf(run, 'identity')[0]?.differs).toContain('8000000 Hz')
})

test('1,000 changes a second into 10 ms a write for 10 s: two frames in the port at most, few bytes, the last state', async () => {
  const flood = driverRun({ lamps: 4 })
  flood.driver.start()
  await flood.timers.pass(200 * MS)
  flood.port.writeMs = 10
  let mostTimers = 0
  for (let time = 0; time < 10_000; time++) {
    flood.driver.changes([litChange(time % 4, 100 + (time % 800))])
    await flood.timers.pass(1 * MS)
    mostTimers = Math.max(mostTimers, flood.timers.size)
  }
  await flood.timers.pass(100 * MS)
  expect(flood.box.lamps().map(({ rate }) => rate / 65536)).toEqual([496, 497, 498, 499])
  expect(flood.port.mostPending).toBeLessThan(100)
  expect(mostTimers).toBeLessThan(12)
  expect(eventsOf(flood, 'lost')).toEqual([])
})
