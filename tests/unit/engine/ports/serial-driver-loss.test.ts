import { expect, test } from 'vitest'
import { BOX_INFO, driverRun, eventsOf, isLit, storyOf } from '../../../support/driver-run.ts'
import { litChange } from '../../../support/link-line.ts'

const MS = 1000

/** Open, greeted, lamp 0 lit. */
async function playing(options: Parameters<typeof driverRun>[0] = {}) {
  const run = driverRun({ lamps: 2, ...options })
  run.driver.changes([litChange(0, 440)])
  run.driver.start()
  await run.timers.pass(500 * MS)
  expect(isLit(run)).toEqual([true, false])
  return run
}

test('opening: the port, who is on it, then the box', async () => {
  const run = await playing()
  expect(storyOf(run)).toEqual(['opened', 'learned', 'ready'])
  expect(eventsOf(run, 'learned')[0]?.port).toEqual(BOX_INFO)
  expect(eventsOf(run, 'ready')).toEqual([{ kind: 'ready', again: false }])
})

test('pulled out and plugged in again: lost at once, reopened once, the full state', async () => {
  const run = await playing()
  run.system.unplug(BOX_INFO.path)
  expect(storyOf(run).at(-1)).toBe('lost')
  expect(eventsOf(run, 'lost')[0]).toMatchObject({ portOpen: false })
  run.driver.changes([litChange(1, 550)])
  await run.timers.pass(5000 * MS)
  expect(run.system.opens).toBe(1)
  // First after 250 ms, then each second.
  expect(run.system.tries).toBe(1 + 5)
  const again = run.system.plug(BOX_INFO, (send) => {
    run.port.fromDevice = send
    return { receive: (bytes) => run.box.receive(bytes) }
  })
  run.box.reset()
  await run.timers.pass(1500 * MS)
  expect(again.isOpen).toBe(true)
  expect(run.system.opens).toBe(2)
  expect(isLit(run)).toEqual([true, true])
  expect(storyOf(run)).toEqual([
    'opened',
    'learned',
    'ready',
    'lost',
    'not-open',
    'opened',
    'learned',
    'ready',
  ])
  expect(eventsOf(run, 'ready').at(-1)).toEqual({ kind: 'ready', again: true })
})

test('back on another path: found by its serial number', async () => {
  const run = await playing()
  run.system.move(BOX_INFO.path, '/dev/ttyUSB3')
  await run.timers.pass(1500 * MS)
  expect(eventsOf(run, 'opened').at(-1)).toEqual({ kind: 'opened', path: '/dev/ttyUSB3', moved: true })
  expect(run.driver.path).toBe('/dev/ttyUSB3')
  expect(isLit(run)).toEqual([true, false])
})

test('another device on the path is left alone', async () => {
  const run = await playing()
  run.system.unplug(BOX_INFO.path)
  const stranger = run.system.plug({ ...BOX_INFO, serialNumber: 'MOSS-9' }, () => ({ receive: () => {} }))
  await run.timers.pass(4000 * MS)
  expect(stranger.isOpen).toBe(false)
  expect(eventsOf(run, 'not-open')).toHaveLength(1)
  expect(eventsOf(run, 'not-open')[0]).toMatchObject({ fault: 'absent' })
  expect(eventsOf(run, 'not-open')[0]?.message).toContain('another device')
})

test('two that look alike after a move: nobody guesses', async () => {
  const info = { path: BOX_INFO.path, vendorId: '1209', productId: '0001' }
  const run = await playing({ info })
  run.system.unplug(info.path)
  for (const path of ['/dev/ttyUSB5', '/dev/ttyUSB6'])
    run.system.plug({ ...info, path }, () => ({ receive: () => {} }))
  await run.timers.pass(2000 * MS)
  expect(eventsOf(run, 'not-open')[0]).toMatchObject({ fault: 'ambiguous' })
  expect(eventsOf(run, 'not-open')[0]?.message).toContain('/dev/ttyUSB5, /dev/ttyUSB6')
  expect(run.system.opens).toBe(1)
})

test('no close event and writes that go nowhere: lost within 1 s, given up when it is not listed any more', async () => {
  const run = await playing()
  const at = run.timers.now()
  run.system.unplug(BOX_INFO.path, true)
  await run.timers.pass(1000 * MS)
  const lost = run.events.find(({ event }) => event.kind === 'lost')
  expect((lost?.at ?? Infinity) - at).toBeLessThanOrEqual(1000 * MS)
  expect(lost?.event).toMatchObject({ portOpen: true })
  await run.timers.pass(3500 * MS)
  expect(run.driver.path).toBeUndefined()
  expect(eventsOf(run, 'not-open')[0]).toMatchObject({ fault: 'absent' })
  expect(eventsOf(run, 'lost')).toHaveLength(1)
})

test('a write that fails is a port that is gone', async () => {
  const run = await playing()
  run.port.isFailing = true
  await run.timers.pass(150 * MS)
  expect(eventsOf(run, 'lost')[0]?.reason).toContain('EIO')
  run.port.isFailing = false
  await run.timers.pass(1000 * MS)
  expect(run.system.opens).toBe(2)
  expect(isLit(run)).toEqual([true, false])
})

test('a write that does not finish: lost within 1 s, then the port is given up and opened anew', async () => {
  const run = await playing()
  run.port.isStalled = true
  await run.timers.pass(1000 * MS)
  expect(eventsOf(run, 'lost')).toHaveLength(1)
  expect(run.port.pending).toBeLessThan(200)
  await run.timers.pass(200 * MS)
  run.port.isStalled = false
  await run.timers.pass(2000 * MS)
  expect(run.system.opens).toBe(2)
  expect(isLit(run)).toEqual([true, false])
  expect(eventsOf(run, 'lost')).toHaveLength(1)
})

test('a board that is deaf for 3 s after each opening: opened once, then lit', async () => {
  const run = driverRun({ lamps: 2, box: { bootMs: 3000 } })
  run.driver.changes([litChange(0, 440)])
  run.driver.start()
  await run.timers.pass(3400 * MS)
  expect(isLit(run)).toEqual([true, false])
  expect(run.system.opens).toBe(1)
})

test('a port without a box behind it is opened anew each 10 s or so, not more often', async () => {
  const run = driverRun({ box: { bootMs: 1_000_000 } })
  run.driver.start()
  await run.timers.pass(60_000 * MS)
  expect(run.system.opens).toBeGreaterThan(3)
  expect(run.system.opens).toBeLessThan(8)
})

test('a refused port is told of once, and tried again slowly', async () => {
  const run = driverRun()
  run.port.refusal = 'permission'
  run.driver.start()
  await run.timers.pass(10_000 * MS)
  expect(storyOf(run)).toEqual(['not-open'])
  expect(run.system.tries).toBe(11)
  run.port.refusal = undefined
  await run.timers.pass(1500 * MS)
  expect(storyOf(run)).toEqual(['not-open', 'opened', 'learned', 'ready'])
})
