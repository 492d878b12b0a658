import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { Show } from '../../../src/domain/show.ts'

type Word<Type extends FromEngine['type']> = Extract<FromEngine, { type: Type }>

const MOST_DIAGNOSTICS = 50

/** The latest of what the engine said, for screens that come later. */
export class EngineWords {
  #hello: Word<'hello'> | undefined
  #loaded: Word<'loaded'> | Word<'load-failed'> | undefined
  #song: Word<'song'> | undefined
  /** A song that was asked for and has not begun. */
  #coming: Word<'coming'> | undefined
  readonly #ports = new Map<string, Word<'port'>>()
  #lamps: Word<'lamps'> | undefined
  #steps: Word<'steps'> | undefined
  #time: Word<'time'> | undefined
  #tuned: Word<'tuned'> | undefined
  #players: Word<'players'> | undefined
  #figures: Word<'figures'> | undefined
  #guards: Word<'guards'> | undefined
  #finding: Word<'finding'> | undefined
  #diagnostics: Word<'diagnostic'>[] = []

  /** The song that plays, and its place in the set list; undefined while none is known to. */
  get playing(): { readonly song: string; readonly position: number | null } | undefined {
    return this.#song ?? (this.#loaded?.type === 'loaded' ? this.#loaded : undefined)
  }

  hear(message: FromEngine): void {
    switch (message.type) {
      case 'hello':
        this.#hello = message
        this.#forget()
        return
      case 'loaded':
        this.#loaded = message
        this.#song = undefined
        this.#coming = undefined
        return
      case 'load-failed':
        // What was loaded before plays on.
        if (this.#loaded?.type !== 'loaded') this.#loaded = message
        return
      case 'song':
        this.#song = message
        this.#coming = undefined
        return
      case 'coming':
        this.#coming = message.song === null ? undefined : message
        return
      case 'port':
        this.#ports.set(`${message.port.kind} ${message.port.id}`, message)
        return
      case 'lamps':
        this.#lamps = message
        return
      case 'steps':
        this.#steps = message
        return
      case 'time':
        this.#time = message
        return
      case 'tuned':
        this.#tuned = message.tuning === null ? undefined : message
        return
      case 'players':
        this.#players = message
        return
      case 'figures':
        this.#figures = message
        return
      case 'guards':
        this.#guards = message
        return
      case 'finding':
        this.#finding = message.lamp === null ? undefined : message
        return
      case 'diagnostic':
        this.#diagnostics = [...this.#diagnostics, message].slice(-MOST_DIAGNOSTICS)
        return
      case 'stopped':
        this.#hello = undefined
        this.#forget()
        return
      case 'dark':
      case 'ports':
      case 'monitor':
      case 'learned':
      case 'alive':
      case 'not-understood':
        return
    }
  }

  /** How things stand, in an order that can be told; of ports only those that `show` still has. */
  stand(show: Show | undefined): FromEngine[] {
    const ids = new Set([...(show?.players ?? []), ...(show?.rig.outputs ?? [])].map(({ id }) => id))
    return [
      this.#hello,
      this.#loaded,
      this.#song,
      this.#coming,
      ...[...this.#ports.values()].filter(({ port }) => ids.has(port.id)),
      this.#lamps,
      this.#steps,
      this.#time,
      this.#tuned,
      this.#players,
      this.#figures,
      this.#guards,
      this.#finding,
      ...this.#diagnostics,
    ].filter((message) => message !== undefined)
  }

  /** What only the engine before knew. */
  #forget(): void {
    this.#loaded = undefined
    this.#song = undefined
    this.#coming = undefined
    this.#ports.clear()
    this.#lamps = undefined
    this.#steps = undefined
    this.#time = undefined
    this.#tuned = undefined
    this.#players = undefined
    this.#figures = undefined
    this.#guards = undefined
    this.#finding = undefined
  }
}
