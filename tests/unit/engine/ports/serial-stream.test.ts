import { EventEmitter } from 'node:events'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type PortStream, serialStream } from '../../../../app/engine/ports/serial-stream.ts'

type Done = (error?: Error | null) => void

/** A port of the library whose writes, drain and close finish when a test says so. */
class HeldPort extends EventEmitter implements PortStream {
  readonly writes: Done[] = []
  readonly calls: string[] = []
  closeHangs = false
  drainHangs = false

  write(_bytes: Uint8Array, done: Done): void {
    this.writes.push(done)
  }
  drain(done: Done): void {
    this.calls.push('drain')
    if (!this.drainHangs) done()
  }
  flush(done: Done): void {
    this.calls.push('flush')
    done()
  }
  close(done: Done): void {
    this.calls.push('close')
    if (!this.closeHangs) done()
  }
}

function open() {
  const port = new HeldPort()
  const closed: string[] = []
  let written = 0
  const bytes: number[] = []
  const handle = serialStream('/dev/ttyUSB0', port, {
    onBytes: (more) => bytes.push(...more),
    onWritten: () => written++,
    onClosed: (reason) => closed.push(reason),
  })
  return { port, handle, closed, bytes, written: () => written }
}

beforeEach(() => vi.useFakeTimers())
afterEach(() => vi.useRealTimers())

test('bytes pending, and each write told of as it leaves', () => {
  const { port, handle, written } = open()
  handle.write(Uint8Array.of(1, 2, 3))
  handle.write(Uint8Array.of(4))
  expect(handle.pending).toBe(4)
  port.writes[0]?.()
  expect([handle.pending, written()]).toEqual([1, 1])
})

test('a write that takes over 1 s is a port that is gone; writes that go on are not', () => {
  const { port, handle, closed } = open()
  handle.write(Uint8Array.of(1))
  vi.advanceTimersByTime(900)
  handle.write(Uint8Array.of(2))
  port.writes[0]?.()
  vi.advanceTimersByTime(999)
  expect(closed).toEqual([])
  vi.advanceTimersByTime(1)
  expect(closed).toEqual(['/dev/ttyUSB0: a write did not finish within 1 s'])
  expect(port.calls).toEqual(['flush', 'close'])
})

test.each([
  ['a write that fails', (port: HeldPort) => port.writes[0]?.(new Error('EIO: i/o error, write')), 'EIO'],
  [
    'a close that was not asked for',
    (port: HeldPort) => port.emit('close', new Error('bad file')),
    'bad file',
  ],
  ['an error', (port: HeldPort) => port.emit('error', new Error('odd')), 'odd'],
  ['an end', (port: HeldPort) => port.emit('end'), 'gone'],
])('%s is told of once, and nothing after it', (_, happen, word) => {
  const { port, handle, closed, bytes, written } = open()
  handle.write(Uint8Array.of(1))
  happen(port)
  port.emit('close')
  port.emit('data', Uint8Array.of(7))
  port.writes[0]?.()
  handle.write(Uint8Array.of(2))
  vi.advanceTimersByTime(5000)
  expect(closed).toHaveLength(1)
  expect(closed[0]).toContain(word)
  expect([bytes, written(), port.writes.length]).toEqual([[], 0, 1])
})

test('closing waits for what is pending, says nothing, and ends although the driver holds on', async () => {
  const { port, handle, closed } = open()
  port.drainHangs = true
  port.closeHangs = true
  let isDone = false
  void handle.close().then(() => (isDone = true))
  await vi.advanceTimersByTimeAsync(299)
  expect(isDone).toBe(false)
  await vi.advanceTimersByTimeAsync(1)
  expect([isDone, closed, port.calls]).toEqual([true, [], ['drain', 'flush', 'close']])
})
