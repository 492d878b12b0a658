import { fork } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import { DEMO_SHOW, DEMO_TAKE } from '../support/demo.ts'
import { eventually } from '../support/eventually.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const ENGINE = resolve(import.meta.dirname, '../../dist/engine.js')

/** The built engine in a process of its own. */
function forked() {
  const child = fork(ENGINE, [], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] })
  const said: FromEngine[] = []
  child.on('message', (message) => said.push(message as FromEngine))
  onTestFinished(() => void child.kill('SIGKILL'))
  return {
    child,
    ask: (message: ToEngineInput): void => void child.send(message),
    of: <Type extends FromEngine['type']>(type: Type) =>
      said.filter((message): message is Extract<FromEngine, { type: Type }> => message.type === type),
  }
}

test(
  'a process of its own plays the demo with its take, on any machine: lamps of every part, told to who watches, and a clean end',
  REAL_PROCESSES,
  async () => {
    const { child, ask, of } = forked()
    const text = readFileSync(DEMO_SHOW, 'utf8')
    ask({ v: 1, type: 'watch', monitor: true })
    ask({ v: 1, type: 'load', text, rig: 'virtual', take: readFileSync(DEMO_TAKE).toString('base64') })
    const parts = (): Set<string> =>
      new Set(of('lamps').flatMap(({ lamps }) => lamps.flatMap(({ part }) => part ?? [])))
    // The bass of the demo comes in after two bars, five seconds.
    await eventually(() => parts().size === 3, 20_000)
    expect([...parts()].toSorted()).toEqual(['drips', 'lead', 'low'])
    const watched = of('monitor').flatMap(({ events }) => events)
    expect(watched.map(({ way }) => way)).toEqual(expect.arrayContaining(['in', 'out', 'light']))
    expect(new Set(watched.flatMap(({ way, source }) => (way === 'in' ? [source] : [])))).toEqual(
      new Set(['keys', 'pads', 'bass']),
    )
    const exit = once(child, 'exit')
    ask({ v: 1, type: 'stop' })
    await exit
    expect(of('stopped')).toEqual([{ v: 1, type: 'stopped', clean: true }])
    expect(of('diagnostic').filter(({ diagnostic }) => diagnostic.level === 'fault')).toEqual([])
  },
)
