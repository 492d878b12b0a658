import type { Channel } from '../channel.ts'

/** A message port as the desktop app's processes have them; Electron's own types stay with Electron. */
export interface AppPort {
  postMessage(message: unknown): void
  on(event: 'message', call: (event: AppMessage) => void): unknown
  on(event: 'close', call: () => void): unknown
  /** What came before it is called waits. */
  start(): void
}

export interface AppMessage {
  readonly data: unknown
  /** Ends of channels that were sent along. */
  readonly ports: readonly AppPort[]
}

/** The port to the process that started this one; open from the first. */
export type ParentPort = Pick<AppPort, 'postMessage'> & {
  on(event: 'message', call: (event: AppMessage) => void): unknown
}

/** An end of a window's channel. */
export function appPortChannel(port: AppPort): Channel {
  return {
    send: (message) => port.postMessage(message),
    receive: (call) => {
      port.on('message', ({ data }) => call(data))
      port.start()
    },
    closed: (call) => void port.on('close', call),
  }
}

/** The main process as a screen: what it says without a port. It is never gone before we are. */
export function parentPortChannel(port: ParentPort): Channel {
  return {
    send: (message) => port.postMessage(message),
    receive: (call) =>
      void port.on('message', ({ data, ports }) => {
        if (ports.length === 0) call(data)
      }),
    closed: () => {},
  }
}
