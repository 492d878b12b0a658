import type { DesktopBridge } from '../../../src/contract/desktop-bridge.ts'
import { HOST_PORT } from '../../../src/contract/desktop-bridge.ts'

/** A way to the host: a message port in the desktop app, a web socket in a browser. Messages are plain data, not yet validated. */
export interface HostLink {
  send(message: unknown): void
  receive(call: (raw: unknown) => void): void
  opened(call: () => void): void
  closed(call: () => void): void
}

declare global {
  interface Window {
    readonly lanthorn?: DesktopBridge
  }
}

export function openLink(): HostLink {
  return window.lanthorn ? portLink(window.lanthorn) : socketLink()
}

function socketLink(): HostLink {
  const scheme = location.protocol === 'https:' ? 'wss' : 'ws'
  const socket = new WebSocket(`${scheme}://${location.host}/host`)
  return {
    send: (message) => {
      if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message))
    },
    receive: (call) =>
      socket.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
        if (typeof data === 'string') call(parsed(data))
      }),
    opened: (call) => socket.addEventListener('open', call),
    closed: (call) => socket.addEventListener('close', call),
  }
}

/** What is not JSON is handed on as it is, to be found unreadable like any other. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return text
  }
}

function portLink(bridge: DesktopBridge): HostLink {
  let port: MessagePort | undefined
  let receive = (_raw: unknown): void => {}
  let opened = (): void => {}
  window.addEventListener('message', ({ data, ports, source }: MessageEvent<unknown>) => {
    if (source !== window || data !== HOST_PORT || !ports[0]) return
    port = ports[0]
    port.addEventListener('message', (event: MessageEvent<unknown>) => receive(event.data))
    port.start()
    opened()
  })
  bridge.connect()
  return {
    send: (message) => port?.postMessage(message),
    receive: (call) => void (receive = call),
    opened: (call) => void (opened = call),
    // A host that is gone is started again by the main process, which then sends a new port: see above.
    closed: () => {},
  }
}
