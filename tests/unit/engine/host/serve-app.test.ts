import { expect, test } from 'vitest'
import type { AppMessage, AppPort } from '../../../../app/engine/host/app-port.ts'
import { serveApp } from '../../../../app/engine/host/serve-app.ts'
import { HostRun } from '../../../support/host-run.ts'

/** The host's end of a port: what comes before `start` waits, as Electron's do. */
class HeldPort implements AppPort {
  readonly got: { type?: unknown }[] = []
  #calls: ((event: AppMessage) => void)[] = []
  #close = (): void => {}
  #isStarted = false
  #waiting: AppMessage[] = []

  postMessage(message: unknown): void {
    this.got.push(message as { type?: unknown })
  }
  on(event: 'message' | 'close', call: ((event: AppMessage) => void) | (() => void)): void {
    if (event === 'message') this.#calls.push(call as (event: AppMessage) => void)
    else this.#close = call as () => void
  }
  start(): void {
    this.#isStarted = true
    for (const event of this.#waiting.splice(0)) this.come(event.data, event.ports)
  }
  come(data: unknown, ports: readonly AppPort[] = []): void {
    if (this.#isStarted) for (const call of this.#calls) call({ data, ports })
    else this.#waiting.push({ data, ports })
  }
  close(): void {
    this.#close()
  }
  types(): unknown[] {
    return this.got.map(({ type }) => type)
  }
}

test('the main process is a screen, and hands over those of windows', async () => {
  const run = new HostRun()
  const main = new HeldPort()
  serveApp(run.host, main)
  main.start()
  main.come({ v: 1, type: 'enter' })
  expect(main.types()).toEqual(['welcome', 'recent', 'recoveries'])
  expect(main.got[0]).toMatchObject({ place: 'window', mayFiles: true })

  const window = new HeldPort()
  window.come({ v: 1, type: 'enter' })
  main.come({ v: 1, type: 'attach' }, [window])
  expect(window.types()).toEqual(['welcome', 'recent', 'recoveries'])
  // A message that carries ports says nothing else.
  expect(main.types()).toEqual(['welcome', 'recent', 'recoveries'])

  await run.host.openDemo()
  run.play()
  expect(window.types()).toEqual(main.types())
  window.come({ v: 1, type: 'dark-all' })
  main.come({ v: 1, type: 'quit' })
  expect(run.got('dark-all')).toHaveLength(1)
  expect(run.quits).toBe(1)

  window.close()
  const told = window.got.length
  run.says({ type: 'dark' })
  expect(window.got).toHaveLength(told)
  expect(main.types().at(-1)).toBe('dark')
})
