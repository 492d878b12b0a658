import { spawnSync } from 'node:child_process'
import { readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Channel } from '../../app/engine/channel.ts'
import type { Place } from '../../app/engine/host/entry.ts'
import { Host } from '../../app/engine/host/host.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { fromHost } from '../../src/contract/from-host.ts'
import type { FromHost } from '../../src/contract/from-host.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import { DEMO_SHOW, DEMO_TAKE, SCALES } from './demo.ts'
import { eventually } from './eventually.ts'
import { FakeEngine, FakeTimers } from './fake-engine.ts'
import { scratchFolder } from './scratch.ts'

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never
type Said<Type extends FromHost['type']> = Extract<FromHost, { type: Type }>

/** A screen that the test holds: what it was told, each message read as a screen reads it. */
export class HeldScreen implements Channel {
  readonly told: FromHost[] = []
  backlog = 0
  #receive: (message: unknown) => void = () => {}
  #closed: () => void = () => {}

  send(message: unknown): void {
    // As it would be after its way over a wire.
    const read = readMessage(fromHost, JSON.parse(JSON.stringify(message)))
    if (!read.ok) throw new Error(`the host said what no screen understands: ${read.why}`)
    this.told.push(read.message)
  }
  receive(call: (message: unknown) => void): void {
    this.#receive = call
  }
  closed(call: () => void): void {
    this.#closed = call
  }
  /** Asks as it would come over a wire. */
  ask(message: WithoutVersion<ToHost>): void {
    this.raw({ v: 1, ...message })
  }
  raw(message: unknown): void {
    this.#receive(message)
  }
  leave(): void {
    this.#closed()
  }
  of<Type extends FromHost['type']>(type: Type): Said<Type>[] {
    return this.told.filter((message): message is Said<Type> => message.type === type)
  }
  last<Type extends FromHost['type']>(type: Type): Said<Type> {
    const found = this.of(type).at(-1)
    if (!found) throw new Error(`not told ${type}, only ${this.told.map((one) => one.type).join(', ')}`)
    return found
  }
  /** Waits for a message of that kind which comes from now on. */
  async next<Type extends FromHost['type']>(type: Type): Promise<Said<Type>> {
    const before = this.of(type).length
    await eventually(() => this.of(type).length > before)
    return this.last(type)
  }
  types(): string[] {
    return this.told.map(({ type }) => type)
  }
}

/** Gives the show another title, on the revision that the screen saw. */
export function retitle(screen: HeldScreen, title: string): void {
  const changes = [{ do: 'set' as const, path: ['title'], value: title }]
  screen.ask({ type: 'edit', base: screen.last('show').revision, label: 'title', changes })
}

/** A host under test, with engines that do what the test says and a folder of its own. */
export class HostRun {
  readonly folder: string
  readonly timers = new FakeTimers()
  readonly engines: FakeEngine[] = []
  quits = 0
  readonly host: Host

  /** `folder`: where another run was before, whose state this one finds. */
  constructor(folder: string = scratchFolder()) {
    this.folder = folder
    this.host = new Host({
      spawn: () => {
        const engine = new FakeEngine()
        this.engines.push(engine)
        return engine
      },
      stateFolder: join(this.folder, 'state'),
      demo: { show: DEMO_SHOW, take: DEMO_TAKE },
      scales: SCALES,
      quit: () => this.quits++,
      timers: this.timers,
    })
    onTestFinished(() => this.end())
  }

  /** The next start after this process was ended hard. Nothing more is to be asked of this run. */
  crash(): HostRun {
    const unsaved = join(this.folder, 'state', 'unsaved')
    // Its number is nobody's any more.
    const { pid } = spawnSync(process.execPath, ['--version'])
    for (const name of readdirSync(unsaved).filter((one) => one.endsWith('.alive')))
      writeFileSync(join(unsaved, name), `${pid}\n`)
    return new HostRun(this.folder)
  }

  /** All that was noted is on the disk. */
  async kept(screen: HeldScreen): Promise<void> {
    const { revision } = screen.last('show')
    let looks = 0
    await eventually(() => {
      // Not so often that the host says that it lives: a crash would be hard to play then.
      if (looks++ % 25 === 0) this.timers.move(250)
      return screen.of('kept').some((one) => one.revision === revision)
    }, 20_000)
  }

  /** The process ends as it should. */
  async end(): Promise<void> {
    const stopped = this.host.stop()
    this.engines.at(-1)?.exit('code 0')
    await stopped
  }

  get engine(): FakeEngine {
    const engine = this.engines.at(-1)
    if (!engine) throw new Error('no engine runs')
    return engine
  }

  /** A screen that is in. */
  screen(place: Place = 'window'): HeldScreen {
    const screen = new HeldScreen()
    this.host.attach(screen, { place, key: `key of ${place}` })
    if (place === 'window') screen.ask({ type: 'enter' })
    return screen
  }

  /** The engine greets, takes the show and says where it is, as a real one would. */
  play(): void {
    this.says({ type: 'hello', pid: this.engines.length })
    this.took()
  }

  /** The engine has done what it was last asked to load or revise. */
  took(): void {
    const asked = this.engine.got.findLast(({ type }) => type === 'load' || type === 'revise')
    if (asked?.type !== 'load' && asked?.type !== 'revise') throw new Error('nothing was loaded')
    const show = JSON.parse(asked.text) as { title: string; songs: { id: string }[]; setList: string[] }
    const songs = show.songs.map(({ id }) => id)
    const song = (asked.type === 'load' ? asked.song : undefined) ?? show.setList[0] ?? ''
    this.says({
      type: 'loaded',
      title: show.title,
      song,
      position: (asked.type === 'load' ? asked.position : undefined) ?? 0,
      songs,
      ...(asked.request === undefined ? {} : { request: asked.request }),
    })
  }

  says(message: WithoutVersion<FromEngine>): void {
    this.engine.says({ v: 1, ...message })
  }

  /** Messages of that kind that the engine which runs has got. */
  got(type: string): FakeEngine['got'] {
    return this.engine.got.filter((message) => message.type === type)
  }
}
