import type { FromHost } from '../../../src/contract/from-host.ts'
import type { Channel } from '../channel.ts'
import type { SupervisorTimers } from '../supervisor.ts'
import type { Entry } from './entry.ts'

type Droppable = Extract<FromHost, { type: 'lamps' | 'steps' | 'players' | 'figures' | 'guards' | 'monitor' }>

/** Bytes that wait for a screen; above, it is told the newest of what changes all the time, and no more. */
const MOST_BACKLOG = 256_000
/** How soon it is looked again whether a screen has caught up. */
const AGAIN_MS = 100

/** One screen, or the desktop's main process, as the host sees it. */
export class Screen {
  readonly entry: Entry
  readonly #channel: Channel
  readonly #timers: Pick<SupervisorTimers, 'after'>
  /** What was held back, the newest of each kind. */
  readonly #waiting = new Map<Droppable['type'], Droppable>()
  #isLooking = false
  #stopLooking = (): void => {}
  isIn = false
  wantsMonitor = false
  isLearning = false
  /** Messages it was not sent, since newer ones took their place. */
  skipped = 0

  constructor(channel: Channel, entry: Entry, timers: Pick<SupervisorTimers, 'after'>) {
    this.#channel = channel
    this.entry = entry
    this.#timers = timers
  }

  get mayFiles(): boolean {
    return this.entry.place !== 'remote'
  }

  tell(message: FromHost): void {
    // A new engine: what the one before it said of lamps and players holds no longer.
    if (message.type === 'hello') this.#waiting.clear()
    if (!isDroppable(message)) return this.#channel.send(message)
    if (this.#isBehind) return this.#hold(message)
    const held = this.#waiting.get(message.type)
    this.#waiting.delete(message.type)
    this.#channel.send(held ? newest(held, message) : message)
    if (held) this.skipped += 1
  }

  /** Gone: nothing more is sent. */
  close(): void {
    this.#stopLooking()
    this.#waiting.clear()
  }

  get #isBehind(): boolean {
    return (this.#channel.backlog ?? 0) > MOST_BACKLOG
  }

  #hold(message: Droppable): void {
    const held = this.#waiting.get(message.type)
    if (held) this.skipped += 1
    this.#waiting.set(message.type, held ? newest(held, message) : message)
    this.#lookAgain()
  }

  #lookAgain(): void {
    if (this.#isLooking) return
    this.#isLooking = true
    this.#stopLooking = this.#timers.after(AGAIN_MS, () => {
      this.#isLooking = false
      if (this.#isBehind) return this.#lookAgain()
      const messages = [...this.#waiting.values()]
      this.#waiting.clear()
      for (const message of messages) this.#channel.send(message)
    })
  }
}

function isDroppable(message: FromHost): message is Droppable {
  switch (message.type) {
    case 'lamps':
    case 'steps':
    case 'players':
    case 'figures':
    case 'guards':
    case 'monitor':
      return true
    default:
      return false
  }
}

/** The later one; events of the monitor that go with the earlier one are counted. */
function newest(earlier: Droppable, later: Droppable): Droppable {
  if (earlier.type !== 'monitor' || later.type !== 'monitor') return later
  return { ...later, left: later.left + earlier.left + earlier.events.length }
}
