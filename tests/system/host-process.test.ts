import { fork } from 'node:child_process'
import { resolve } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { FromHost } from '../../src/contract/from-host.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import { eventually } from '../support/eventually.ts'
import { scratchFolder } from '../support/scratch.ts'

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never

const ROOT = resolve(import.meta.dirname, '../..')
const LIMIT = 30_000

/** The built host as the desktop app starts it, with its own engine process. */
function startHost() {
  const child = fork(resolve(ROOT, 'dist/host.js'), [], {
    execArgv: ['--import', resolve(ROOT, 'tests/support/parent-port.mjs')],
    env: { ...process.env, LANTHORN_STATE: scratchFolder() },
  })
  const said: FromHost[] = []
  let ended: number | null | undefined
  child.on('message', (message) => said.push(message as FromHost))
  child.on('exit', (code) => (ended = code))
  onTestFinished(() => void child.kill('SIGKILL'))
  return {
    said,
    ask: (message: WithoutVersion<ToHost>) => child.send({ v: 1, ...message }),
    of: (type: FromHost['type']) => said.filter((message) => message.type === type),
    ended: () => ended,
  }
}

test('the host of the desktop app plays the demo in an engine of its own, takes an edit of it, and ends dark', async () => {
  const { said, ask, of, ended } = startHost()
  ask({ type: 'enter' })
  ask({ type: 'open-demo' })
  await eventually(() => of('loaded').length > 0, LIMIT)
  expect(said[0]).toMatchObject({ type: 'welcome', place: 'window', mayFiles: true })
  // Players in memory play the take; no lamp but in memory is lit.
  const isLit = (message: FromHost): boolean => message.type === 'lamps' && message.lamps.some(({ on }) => on)
  await eventually(() => said.some(isLit), LIMIT)
  const show = said.find((message) => message.type === 'show')
  expect(show).toMatchObject({ isDemo: true, rig: 'virtual' })

  // What lies beside the built host is found.
  ask({ type: 'ask-scales' })
  await eventually(() => of('scales').length > 0, LIMIT)
  expect(of('scales')).toMatchObject([
    { scales: expect.arrayContaining([expect.objectContaining({ id: 'twelfth-in-13' })]) },
  ])

  const base = show?.type === 'show' ? show.revision : 0
  ask({ type: 'edit', base, label: 'title', changes: [{ do: 'set', path: ['title'], value: 'Third night' }] })
  await eventually(
    () => said.some((message) => message.type === 'loaded' && message.title === 'Third night'),
    LIMIT,
  )
  ask({ type: 'quit' })
  await eventually(() => ended() !== undefined, LIMIT)
  expect(ended()).toBe(0)
  expect(of('stopped')).toMatchObject([{ clean: true }])
  expect(of('failed')).toEqual([])
})
