import type { Channel } from '../../channel.ts'
import type { Entry, RemoteDoor } from '../entry.ts'

/** What the web server asks of the host. */
export interface ScreenHost {
  /** A screen that has been let in; what comes over its channel is understood by `toHost`, and is never `enter`. */
  attach(channel: Channel, entry: Entry): void
  /** Told anew whenever something of it changes, twice a second at most. */
  setRemote(door: RemoteDoor): void
}
