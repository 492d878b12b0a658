import { expect, test } from 'vitest'
import { linkIsQuiet } from '../../../src/outputs/serial-link-state.ts'
import { LinkLine, litChange } from '../../support/link-line.ts'

const WRITE = 50_000

/** Greeted, over a port that takes 50 ms for a write from then on. */
function slow(lamps: number): LinkLine {
  let micros = 0
  const line = new LinkLine({ lamps, writeMicros: () => micros })
  line.open()
  line.run(30)
  line.written.length = 0
  line.out.length = 0
  micros = WRITE
  return line
}
const types = (line: LinkLine) => line.written.map(({ frame }) => frame.type)

test('dark goes at once, past what waits, and queued lights are forgotten', () => {
  const line = slow(3)
  line.set(litChange(0, 100))
  line.set(litChange(1, 100))
  line.run(1)
  const at = line.now
  line.darkAll()
  expect(line.written.at(-1)).toMatchObject({ at, frame: { type: 'dark' } })
  expect(line.outOf('write').at(-1)?.urgent).toBe(true)
  expect(types(line)).toEqual(['set', 'dark'])
  line.run(1000)
  expect(types(line).filter((type) => type === 'set')).toHaveLength(1)
  expect(line.agrees).toBe(true)
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
})

test('dark that waits at the port is not doubled; lights asked for after it go after it', () => {
  const line = slow(2)
  line.set(litChange(0, 100))
  line.run(1)
  line.darkAll()
  line.darkAll()
  line.darkAll()
  line.set(litChange(1, 300))
  expect(types(line)).toEqual(['set', 'dark'])
  line.run(600)
  expect(line.agrees).toBe(true)
  expect(line.box.lamps().map(({ on }) => on)).toEqual([false, true])
  expect(line.mostWaiting).toBe(2)
})

test('a dark frame that is lost is sent again', () => {
  let lose = 0
  const line = new LinkLine({
    lamps: 1,
    toBox: (bytes) => ({ bytes: lose-- > 0 ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.set(litChange(0, 440))
  line.run(110)
  lose = 1
  line.darkAll()
  line.run(160)
  expect(line.box.lamps()[0]?.on).toBe(false)
  expect(line.agrees).toBe(true)
})

test('dark goes out while the box is greeted, and nothing where there is no port', () => {
  const line = new LinkLine({ lamps: 1, box: { bootMs: 1000 } })
  line.darkAll()
  expect(line.written).toEqual([])
  line.open()
  line.run(5)
  line.darkAll()
  expect(types(line)).toEqual(['dark', 'hello', 'dark'])
})

test('closing: dark, no more lights, quiet once it is answered', () => {
  const line = slow(2)
  line.set(litChange(0, 440))
  line.run(120)
  line.tell({ kind: 'close' })
  expect(types(line).at(-1)).toBe('dark')
  expect(linkIsQuiet(line.state)).toBe(false)
  line.tell({ kind: 'changes', changes: [litChange(1, 100)] })
  line.run(120)
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
  const quiet = Array.from({ length: 150 }, () => (line.run(1), linkIsQuiet(line.state)))
  expect(quiet).toContain(true)
  line.run(1000)
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
})

test('dark a thousand times a second is a bounded state', () => {
  let isMute = false
  const line = new LinkLine({
    lamps: 8,
    toHost: (bytes) => ({ bytes: isMute ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.run(20)
  isMute = true
  let most = 0
  for (let time = 0; time < 600; time++) {
    line.darkAll()
    line.run(1)
    most = Math.max(most, line.state.flights.length)
  }
  expect(line.state.phase).toBe('ready')
  expect(most).toBeLessThanOrEqual(6)
  expect(line.mostWaiting).toBeLessThanOrEqual(2)
})
