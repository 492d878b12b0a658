import { expect, test } from 'vitest'
import { darkChange, LinkLine, litChange } from '../../support/link-line.ts'

const sets = (line: LinkLine) => line.written.flatMap(({ frame }) => (frame.type === 'set' ? [frame] : []))

/** A line that takes `delay` ms each way, greeted. */
function ready(lamps: number, delay = 10): LinkLine {
  const slow = (bytes: Uint8Array) => ({ bytes, delay: delay * 1000 })
  const line = new LinkLine({ lamps, toBox: slow })
  line.open()
  line.run(60)
  line.written.length = 0
  return line
}

test('while two sets wait for replies the newest state of each lamp waits, dark first; then it goes at once', () => {
  const line = ready(4, 20)
  line.set(litChange(3, 100))
  line.run(1)
  line.set(litChange(1, 100))
  line.run(1)
  expect(sets(line)).toHaveLength(2)
  line.set(litChange(2, 100))
  line.set(litChange(0, 100))
  line.set(litChange(2, 200))
  line.set(darkChange(3))
  line.run(1)
  expect(sets(line)).toHaveLength(2)
  line.run(30)
  expect(sets(line)[2]?.lamps).toEqual([
    { slot: 3, rate: 0, duty: 0 },
    { slot: 0, rate: 100 * 65536, duty: 32768 },
    { slot: 2, rate: 200 * 65536, duty: 32768 },
  ])
  expect(line.mostSetsInFlight).toBe(2)
  line.run(100)
  expect(line.agrees).toBe(true)
})

test('a lamp that changed and changed back meanwhile is not sent', () => {
  const line = ready(3, 20)
  line.set(litChange(0, 100))
  line.run(1)
  line.set(litChange(1, 100))
  line.run(1)
  line.set(litChange(2, 300))
  line.set(darkChange(2))
  line.run(200)
  expect(sets(line)).toHaveLength(2)
  expect(line.agrees).toBe(true)
})

test('latency is from giving the frame to the port until its reply', () => {
  const line = ready(1, 7)
  line.run(25)
  line.out.length = 0
  line.set(litChange(0, 100))
  line.run(8)
  expect(line.outOf('latency')).toEqual([{ kind: 'latency', micros: 7000 }])
})

test('a set that is lost is sent again after 150 ms at the latest, as its lamps then are', () => {
  let lose = 0
  const line = new LinkLine({
    lamps: 2,
    toBox: (bytes) => ({ bytes: lose-- > 0 ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.run(130)
  line.written.length = 0
  lose = 1
  line.set(litChange(0, 100), litChange(1, 100))
  line.run(1)
  line.set(litChange(0, 200))
  line.run(160)
  expect(line.agrees).toBe(true)
  expect(line.outOf('count')).toEqual([
    { kind: 'count', what: 'unanswered', sequence: sets(line)[0]?.sequence },
  ])
  expect(sets(line)).toHaveLength(3)
})

test('where every reply is lost for a while, two places at most are taken, and 150 ms free them', () => {
  let isMute = false
  const line = new LinkLine({
    lamps: 3,
    toHost: (bytes) => ({ bytes: isMute ? undefined : bytes, delay: 0 }),
  })
  line.open()
  line.run(50)
  isMute = true
  for (let round = 0; round < 40; round++) {
    line.set(litChange(round % 3, 1000 + round))
    line.run(10)
  }
  expect(line.mostSetsInFlight).toBe(2)
  isMute = false
  line.run(200)
  expect(line.agrees).toBe(true)
  expect(line.outOf('state').map(({ state }) => state)).toEqual(['greeting', 'ready'])
})

test('a slow line is given its time before a reply counts as missing', () => {
  const line = ready(1, 140)
  line.run(500)
  line.out.length = 0
  line.set(litChange(0, 100))
  line.run(400)
  expect(line.outOf('count')).toEqual([])
})

test('where more lamps change all the time than go into a frame, each has its turn', () => {
  const line = ready(80, 5)
  line.run(100)
  for (let time = 0; time < 100; time++) {
    line.set(...Array.from({ length: 78 }, (_, index) => litChange(index, 100 + time)))
    if (time === 10) line.set(litChange(79, 777))
    line.run(1)
  }
  expect(line.box.lamps()[79]?.on).toBe(true)
})
