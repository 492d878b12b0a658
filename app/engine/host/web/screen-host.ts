import type { Channel } from '../../channel.ts'
import type { Entry, RemoteDoor } from '../entry.ts'

/** A screen's way to the host. */
export interface ScreenChannel extends Channel {
  /** Bytes that wait for a screen that reads slowly. */
  readonly backlog: number
}

/** What the web server asks of the host. */
export interface ScreenHost {
  /** A screen that has been let in; what comes over its channel is understood by `toHost`, and is never `enter`. */
  attach(channel: ScreenChannel, entry: Entry): void
  /** Told anew whenever something of it changes, twice a second at most. */
  setRemote(door: RemoteDoor): void
}
