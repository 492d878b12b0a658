import type { Channel } from '../../app/engine/channel.ts'
import type { Entry, RemoteDoor } from '../../app/engine/host/entry.ts'
import type { ScreenHost } from '../../app/engine/host/web/screen-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'

/** A host that welcomes whoever is attached and notes what it is asked; it has no engine. */
export class StandingHost implements ScreenHost {
  readonly asked: unknown[] = []
  readonly doors: RemoteDoor[] = []
  readonly channels: Channel[] = []
  gone = 0

  attach(channel: Channel, entry: Entry): void {
    this.channels.push(channel)
    channel.receive((message) => this.asked.push(message))
    channel.closed(() => (this.gone += 1))
    channel.send({
      v: CONTRACT_VERSION,
      type: 'welcome',
      ...entry,
      mayFiles: entry.place !== 'remote',
      strategies: [],
      cautions: [],
      areCautionsRead: true,
    })
  }

  setRemote(door: RemoteDoor): void {
    this.doors.push(door)
  }
}
