import { appPortChannel, parentPortChannel } from './app-port.ts'
import type { ParentPort } from './app-port.ts'
import type { Entry } from './entry.ts'
import type { Host } from './host.ts'

/** Windows need no key: a port that the main process hands over is proof enough. */
const IN_THE_APP: Entry = { place: 'window', key: '' }

/** The main process is a screen of the host, and so is each window whose port it hands over. */
export function serveApp(host: Host, parent: ParentPort): void {
  host.attach(parentPortChannel(parent), IN_THE_APP)
  parent.on('message', ({ ports }) => {
    for (const port of ports) host.attach(appPortChannel(port), IN_THE_APP)
  })
}
