import type { SerialPortHandle, SerialPortHandlers } from './serial-system.ts'

type Done = (error?: Error | null) => void

/** As much of the serial library's port as is used here; a test gives its own. */
export interface PortStream {
  write(bytes: Uint8Array, done: Done): unknown
  drain(done: Done): void
  flush(done: Done): void
  close(done: Done): void
  on(event: 'data', heard: (bytes: Uint8Array) => void): unknown
  on(event: 'close' | 'error' | 'end', heard: (error?: Error | null) => void): unknown
}

/** A write that has not finished after this long never will. */
const STALLED_MS = 1000
/** Closing waits so long for what is pending, and so long again for the port itself: a driver may hold on to both. */
const CLOSING_MS = 150

/** An open port of the serial library as a handle. Partial writes are the library's: it writes the rest, in order. */
export function serialStream(path: string, port: PortStream, handlers: SerialPortHandlers): SerialPortHandle {
  let isDone = false
  let pending = 0
  let stall: NodeJS.Timeout | undefined
  let closing: Promise<void> | undefined

  const end = (reason: string): void => {
    if (isDone) return
    isDone = true
    clearTimeout(stall)
    // What the system still holds would keep the device from closing.
    port.flush(() => port.close(() => {}))
    handlers.onClosed(reason)
  }
  const watch = (): void => {
    clearTimeout(stall)
    if (pending > 0)
      stall = setTimeout(
        () => end(`${path}: a write did not finish within ${STALLED_MS / 1000} s`),
        STALLED_MS,
      )
  }
  const why = (what: string, error?: Error | null): string =>
    `${path}: ${what}${error ? ` (${error.message})` : ''}`

  port.on('data', (bytes) => {
    if (!isDone) handlers.onBytes(bytes)
  })
  port.on('close', (error) => end(why('the port is gone', error)))
  port.on('end', () => end(why('the port is gone')))
  port.on('error', (error) => end(why('the port failed', error)))

  const closeNow = async (): Promise<void> => {
    if (isDone) return
    await bounded((done) => port.drain(done))
    if (isDone) return
    isDone = true
    clearTimeout(stall)
    await bounded((done) => port.flush(() => port.close(done)))
  }

  return {
    path,
    get pending() {
      return pending
    },
    write(bytes) {
      if (isDone || closing) return
      pending += bytes.length
      if (pending === bytes.length) watch()
      port.write(bytes, (error) => {
        pending -= bytes.length
        if (error) end(why('a write failed', error))
        if (isDone) return
        watch()
        handlers.onWritten()
      })
    },
    close() {
      closing ??= closeNow()
      return closing
    },
  }
}

function bounded(start: (done: Done) => void): Promise<void> {
  return new Promise((done) => {
    const timer = setTimeout(done, CLOSING_MS)
    start(() => {
      clearTimeout(timer)
      done()
    })
  })
}
