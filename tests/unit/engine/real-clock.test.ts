import { expect, test } from 'vitest'
import { RealClock } from '../../../app/engine/real-clock.ts'

test('it calls at the time asked for or after, never before, and once', async () => {
  const clock = new RealClock()
  const calls: number[] = []
  const due = clock.now() + 20_000
  await new Promise<void>((resolve) => {
    clock.callAt(due, () => {
      calls.push(clock.now())
      setTimeout(resolve, 20)
    })
  })
  expect(calls).toHaveLength(1)
  expect(calls[0]).toBeGreaterThanOrEqual(due)
})

test('a later request replaces the one before; a time past is called soon, but not inside the request', async () => {
  const clock = new RealClock()
  const calls: string[] = []
  clock.callAt(clock.now() + 5_000, () => calls.push('replaced'))
  await new Promise<void>((resolve) => {
    clock.callAt(0, () => {
      calls.push('past')
      resolve()
    })
    expect(calls).toEqual([])
  })
  await new Promise((resolve) => setTimeout(resolve, 20))
  expect(calls).toEqual(['past'])
})

test('it waits without working: an idle wait costs hardly any time of the processor', async () => {
  const clock = new RealClock()
  const before = process.cpuUsage()
  await new Promise<void>((resolve) => clock.callAt(clock.now() + 400_000, resolve))
  const { user, system } = process.cpuUsage(before)
  // A tenth of what a clock that spins the whole time would burn.
  expect(user + system).toBeLessThan(200_000)
})

test('stopped, it never calls', async () => {
  const clock = new RealClock()
  let called = false
  clock.callAt(clock.now() + 1_000, () => {
    called = true
  })
  clock.stop()
  await new Promise((resolve) => setTimeout(resolve, 15))
  expect(called).toBe(false)
})
