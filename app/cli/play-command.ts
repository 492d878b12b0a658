import { readFileSync } from 'node:fs'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { forkEngine } from '../engine/fork-engine.ts'
import { Supervisor } from '../engine/supervisor.ts'
import { Failure } from './failure.ts'
import { createPlayView } from './play-view.ts'
import { readShow, songOf } from './read-show.ts'
import { createScreen } from './terminal-screen.ts'

export interface PlayArguments {
  readonly song?: string
  readonly rig: 'real' | 'virtual'
  readonly json?: boolean
}

/** `lanthorn play SHOW`: the engine alone. Resolves when it has been asked to stop and every off has left, or the wait for them ended. */
export async function playCommand(path: string, { song, rig, json }: PlayArguments): Promise<void> {
  const show = readShow(path)
  const first = songOf(show, song)
  const view = createPlayView()
  const screen = createScreen(json ? undefined : process.stdout)
  /** The port that a question is open about; a digit answers it. */
  let asking: string | undefined

  const stopped = createOutcome()
  const say = (message: FromEngine): void => {
    if (message.type === 'port') asking = message.port.state === 'ambiguous' ? message.port.id : undefined
    if (json) process.stdout.write(`${JSON.stringify(message)}\n`)
    else {
      const line = view.line(message)
      if (line !== undefined) screen.print(line)
      screen.stand(view.standing())
    }
    if (message.type === 'load-failed') stopped.fail(new Failure(message.message))
  }
  const supervisor = new Supervisor({ spawn: forkEngine, say })

  let isStopping = false
  const stop = (): void => {
    if (isStopping) return
    isStopping = true
    void supervisor.stop().then(stopped.end)
  }
  const keys = new Map<string, () => void>([
    ['d', () => supervisor.send({ v: CONTRACT_VERSION, type: 'dark-all' })],
    [' ', () => supervisor.send({ v: CONTRACT_VERSION, type: 'dark-all' })],
    ['n', () => supervisor.send({ v: CONTRACT_VERSION, type: 'go', to: 'next' })],
    ['p', () => supervisor.send({ v: CONTRACT_VERSION, type: 'go', to: 'previous' })],
    ['q', stop],
    ['\u0003', stop],
  ])
  const press = (key: string): void => {
    if (asking !== undefined && /^\d$/.test(key)) {
      supervisor.send({ v: CONTRACT_VERSION, type: 'choose-port', port: asking, place: Number(key) })
    } else keys.get(key)?.()
  }
  const restore = json ? () => {} : screen.keys(press)
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stop)

  supervisor.load({ text: readFileSync(path, 'utf8'), rig, song: first })
  try {
    const clean = await stopped.promise
    if (!clean)
      throw new Failure(
        'The engine was ended before it could say that every off had left; look at the lamps.',
      )
  } catch (error) {
    if (!isStopping) await supervisor.stop()
    throw error
  } finally {
    restore()
  }
}

interface Outcome {
  readonly promise: Promise<boolean>
  end(clean: boolean): void
  fail(error: Failure): void
}

/** A promise that is kept from outside. */
function createOutcome(): Outcome {
  const outcome: Partial<Outcome> = {}
  const promise = new Promise<boolean>((resolve, reject) => {
    outcome.end = resolve
    outcome.fail = reject
  })
  return { ...outcome, promise } as Outcome
}
