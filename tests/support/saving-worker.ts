import { writeSync } from 'node:fs'
import { join } from 'node:path'
import { Host } from '../../app/engine/host/host.ts'
import type { FromHost } from '../../src/contract/from-host.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import { FakeEngine } from './fake-engine.ts'

/**
 * Hosts without engines, each with a folder of its own, which edit a show and save it as fast as the disk takes it, until the process is killed. The title
 * counts the edits. It says what each was told, a line each, with the count that it is of: `3 saved 12` is the fourth host's. Words: the demo, then folders
 * with a `show.json`.
 */
const [demo = '', ...folders] = process.argv.slice(2)

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never

/** Milliseconds between edits that are not waited for. */
const EDIT_MS = 20

async function work(folder: string, place: number): Promise<void> {
  const host = new Host({
    spawn: () => new FakeEngine(),
    stateFolder: join(folder, 'state'),
    demo: { show: demo, take: demo },
    scales: demo,
  })
  let receive = (message: unknown): void => void message
  const ask = (message: WithoutVersion<ToHost>): void => receive({ v: 1, ...message })
  let shown: Extract<FromHost, { type: 'show' }> | undefined
  let found: string | undefined
  let isOpened = (): void => {}
  /** Title of each revision. */
  const titles = new Map<number, string>()
  const saving: string[] = []
  const say = (line: string): void => void writeSync(1, `${place} ${line}\n`)

  const edit = (): void => {
    if (!shown) return
    const value = String(Number(shown.show.title) + 1)
    const changes = [{ do: 'set' as const, path: ['title'], value }]
    ask({ type: 'edit', base: shown.revision, label: `title ${value}`, changes })
  }
  const save = (): void => {
    if (!shown) return
    saving.push(shown.show.title)
    ask({ type: 'save' })
  }
  const hear = (message: FromHost): void => {
    switch (message.type) {
      case 'show':
        shown = message
        titles.set(message.revision, message.show.title)
        return isOpened()
      case 'recoveries':
        found = message.found[0]?.id
        return
      case 'kept':
        if (message.message !== null) say(`trouble ${message.message}`)
        return say(`kept ${titles.get(message.revision ?? -1) ?? ''}`)
      case 'saved':
        say(`saved ${saving.shift()}`)
        edit()
        return save()
      case 'failed':
      case 'edit-refused':
        return say(`trouble ${JSON.stringify(message)}`)
      default:
        return
    }
  }
  host.attach(
    {
      send: (message) => hear(message as FromHost),
      receive: (call) => void (receive = call),
      closed: () => {},
    },
    { place: 'browser', key: '' },
  )
  const trouble = await host.begin({ show: join(folder, 'show.json') })
  if (trouble !== undefined) say(`trouble ${trouble}`)
  // What the one before it had not saved.
  if (found !== undefined) {
    const opened = new Promise<void>((resolve) => (isOpened = resolve))
    ask({ type: 'recovery', id: found, do: 'open' })
    await opened
  }
  say(`begun ${shown?.show.title}`)
  edit()
  save()
  setInterval(edit, EDIT_MS)
}

await Promise.all(folders.map(work))
