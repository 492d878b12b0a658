import type { MessagePort } from 'node:worker_threads'

/** Two ends that send each other plain data, whatever carries it: a child process, a worker, a window. */
export interface Channel {
  send(message: unknown): void
  /** Called for each message from the other end. */
  receive(call: (message: unknown) => void): void
  /** Called once when the other end is gone. */
  closed(call: () => void): void
  /** Bytes sent that have not left yet; a carrier that cannot tell leaves this out. */
  readonly backlog?: number
}

/** The end of a child process that its parent forked. */
export function parentChannel(): Channel {
  if (!process.send) throw new Error('this process was not started with a channel to its parent')
  return {
    // A parent that is gone cannot be told anything; `closed` tells us of it.
    send: (message) => process.send?.(message, undefined, undefined, () => {}),
    receive: (call) => void process.on('message', call),
    closed: (call) => void process.once('disconnect', call),
  }
}

/** An end of a message port, as workers and windows have them. */
export function portChannel(port: MessagePort): Channel {
  return {
    send: (message) => port.postMessage(message),
    receive: (call) => void port.on('message', call),
    closed: (call) => void port.once('close', call),
  }
}
