import { expect, test } from 'vitest'
import { LinkLine, litChange } from '../../support/link-line.ts'

/** A line that can be cut, either way. */
function cuttable(lamps: number) {
  const cut = { toBox: false, toHost: false }
  const line = new LinkLine({
    lamps,
    toBox: (bytes) => ({ bytes: cut.toBox ? undefined : bytes, delay: 0 }),
    toHost: (bytes) => ({ bytes: cut.toHost ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.set(litChange(0, 440))
  line.run(130)
  line.written.length = 0
  return { line, cut }
}
const states = (line: LinkLine) => line.outOf('state').map(({ state }) => state)

test('a silent box is lost within 1 s, greeted every 250 ms, and gets the full state once when it is back', () => {
  const { line, cut } = cuttable(2)
  cut.toBox = true
  const cutAt = line.now
  line.run(1000)
  const lostAt = line.out.find(({ one }) => one.kind === 'state' && one.state === 'lost')?.at ?? Infinity
  expect(lostAt - cutAt).toBeLessThanOrEqual(800_000)
  line.set(litChange(1, 550))
  line.run(2000)
  const hellos = line.written.flatMap(({ at, frame }) => (frame.type === 'hello' ? [at] : []))
  expect(hellos.slice(1).map((at, place) => at - (hellos[place] ?? 0))).toEqual(
    hellos.slice(1).map(() => 250_000),
  )
  expect(hellos[0]).toBe(lostAt)
  line.written.length = 0
  cut.toBox = false
  line.run(300)
  expect(line.written.filter(({ frame }) => frame.type === 'set')).toHaveLength(1)
  expect(line.agrees).toBe(true)
  expect(states(line)).toEqual(['greeting', 'ready', 'lost', 'ready'])
})

test('a box that is only not heard any more goes dark: nothing sounds on at a box that hello keeps awake', () => {
  const { line, cut } = cuttable(1)
  cut.toHost = true
  line.run(1000)
  expect(line.state.phase).toBe('lost')
  expect(line.box.lamps()[0]?.on).toBe(false)
  cut.toHost = false
  line.run(300)
  expect(line.agrees).toBe(true)
  expect(line.box.lamps()[0]?.on).toBe(true)
})

test('a port that goes is lost at once; opened again it is greeted and gets the full state once', () => {
  const { line } = cuttable(2)
  line.closed()
  expect(states(line).at(-1)).toBe('lost')
  line.set(litChange(1, 550))
  line.run(3000)
  expect(line.written).toEqual([])
  line.open()
  line.run(20)
  expect(line.written.filter(({ frame }) => frame.type === 'set')).toHaveLength(1)
  expect(line.agrees).toBe(true)
})

test('when we were held up ourselves the box is asked once more before it counts as lost', () => {
  const { line } = cuttable(1)
  line.timers.skip(900_000)
  line.run(300)
  expect(states(line)).toEqual(['greeting', 'ready'])
  expect(line.agrees).toBe(true)
})

test('a box whose watchdog darkened it while nothing reached it is lit again, though it never was lost', () => {
  const { line, cut } = cuttable(1)
  cut.toBox = true
  line.run(540)
  expect(line.box.lamps()[0]?.on).toBe(false)
  cut.toBox = false
  line.run(300)
  expect(states(line)).toEqual(['greeting', 'ready'])
  expect(line.agrees).toBe(true)
})

test('held up again and again by more than its grace, a box that is silent is lost all the same', () => {
  const { line, cut } = cuttable(1)
  cut.toHost = true
  for (let time = 0; time < 8; time++) {
    line.timers.skip(160_000)
    line.run(1)
  }
  expect(states(line).at(-1)).toBe('lost')
})

test('after a sleep all is dark until it is told otherwise, whatever lay unread', () => {
  const { line } = cuttable(2)
  line.set(litChange(1, 550))
  // The box has answered, and that was not heard.
  line.timers.skip(10_000_000)
  line.written.length = 0
  line.run(2000)
  const rates = line.written.flatMap(({ frame }) => (frame.type === 'set' ? frame.lamps : []))
  expect(rates.filter(({ rate }) => rate > 0)).toEqual([])
  expect(line.written[0]?.frame.type).toBe('dark')
  expect(line.box.lamps().some(({ on }) => on)).toBe(false)
  line.set(litChange(1, 660))
  line.run(10)
  expect(line.box.lamps().map(({ rate }) => rate / 65536)).toEqual([0, 660])
})
