import { expect, test } from 'vitest'
import { HostRun } from '../../../support/host-run.ts'

async function setUp() {
  const run = new HostRun()
  await run.host.openDemo()
  run.play()
  const slow = run.screen('remote')
  slow.ask({ type: 'watch', monitor: true })
  const lamps = (at: number) => run.says({ type: 'lamps', at, lamps: [] })
  const monitor = (at: number, events: number, left: number) =>
    run.says({
      type: 'monitor',
      at,
      events: Array.from({ length: events }, () => ({ at, way: 'in' as const, source: 'keys', text: 'x' })),
      left,
    })
  return { run, slow, lamps, monitor }
}

test('a screen that is behind is told the newest lamps when it has caught up, and others all along', async () => {
  const { run, slow, lamps } = await setUp()
  const quick = run.screen('browser')
  slow.backlog = 256_001
  for (let at = 1; at <= 5; at++) lamps(at)
  expect(slow.of('lamps')).toEqual([])
  expect(quick.of('lamps').map(({ at }) => at)).toEqual([1, 2, 3, 4, 5])
  run.timers.move(300)
  expect(slow.of('lamps')).toEqual([])
  slow.backlog = 256_000
  run.timers.move(100)
  expect(slow.of('lamps').map(({ at }) => at)).toEqual([5])
  expect(run.host.counts.skipped).toBe(4)
  run.timers.move(1_000)
  expect(slow.of('lamps')).toHaveLength(1)
})

test('a screen that has caught up before it is looked after is told the newest once', async () => {
  const { run, slow, lamps } = await setUp()
  slow.backlog = 300_000
  lamps(1)
  slow.backlog = 0
  lamps(2)
  run.timers.move(1_000)
  expect(slow.of('lamps').map(({ at }) => at)).toEqual([2])
  expect(run.host.counts.skipped).toBe(1)
})

test('what happens once is never held back', async () => {
  const { run, slow } = await setUp()
  slow.backlog = 10_000_000
  run.says({ type: 'dark' })
  run.says({ type: 'song', song: 'tide', position: 0 })
  expect(slow.types().slice(-2)).toEqual(['dark', 'song'])
})

test('events of the monitor that were held back are counted', async () => {
  const { run, slow, monitor } = await setUp()
  slow.backlog = 300_000
  monitor(1, 3, 1)
  monitor(2, 2, 0)
  monitor(3, 1, 5)
  slow.backlog = 0
  run.timers.move(100)
  expect(slow.of('monitor')).toHaveLength(1)
  expect(slow.last('monitor')).toMatchObject({ at: 3, left: 5 + 2 + 3 + 1 })
  expect(slow.last('monitor').events).toHaveLength(1)
})

test('what an engine said that is gone is not told any more', async () => {
  const { run, slow, lamps } = await setUp()
  slow.backlog = 300_000
  lamps(1)
  run.engine.exit()
  run.says({ type: 'hello', pid: 2 })
  slow.backlog = 0
  run.timers.move(1_000)
  expect(slow.of('lamps')).toEqual([])
})
