import { expect, test } from 'vitest'
import { glasshouse } from '../../support/shows.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { validShow } from '../../support/valid-show.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]
const chord = (...messages: number[][]): { player: string; bytes: number[]; after: number }[] =>
  messages.map((bytes) => ({ player: 'keys', bytes, after: 0 }))

function run(): GraphRun {
  return new GraphRun(validShow(glasshouse()))
}

function framesOf(graphRun: GraphRun): string[] {
  return graphRun
    .of('frame')
    .map(
      ({ at, changes }) =>
        `${at}: ${changes.map(({ lamp, state }) => `${lamp}${state.on ? `=${state.key}` : ' dark'}`).join(', ')}`,
    )
}

test('the changes of one moment leave together, in one frame on the wire', () => {
  const one = run()
  one.play(chord(on(60), on(64), on(67)), 1000)
  one.graph.advance(1000)
  expect(framesOf(one)).toEqual(['1000: fern=60, moss=64, reed=67'])
  expect(one.of('bytes').filter(({ at }) => at === 1000)).toHaveLength(1)
})

test('a note-off goes before a note-on of the same time, also where it came after it', () => {
  const one = run()
  one.play(chord(on(60), on(62), on(64), on(65)), 1000)
  one.play(chord(on(67), off(62)), 2000)
  one.graph.advance(2000)
  expect(framesOf(one).at(-1)).toBe('2000: moss=67')
  expect(one.of('steal')).toEqual([])
})

test('a note that begins and ends at one time leaves no trace and no stuck lamp', () => {
  const one = run()
  one.play(chord(on(60), off(60)), 1000)
  one.runOut()
  expect(framesOf(one)).toEqual([])
  expect(one.litLamps()).toEqual([])
})

test('an off behind a pedal of the same moment is held by the pedal', () => {
  const one = run()
  one.play(chord(on(60)), 1000)
  one.play(chord([0xb0, 64, 127], off(60)), 2000)
  one.graph.advance(3000)
  expect(one.litLamps()).toEqual(['fern'])
})

test('an off that came before the pedal went down is not held by it', () => {
  const one = run()
  one.play(chord(on(60)), 1000)
  one.play(chord(off(60), [0xb0, 64, 127]), 2000)
  one.graph.advance(3000)
  expect(one.litLamps()).toEqual([])
})

test('dark lamps come before lit ones in a frame', () => {
  const one = run()
  one.play(chord(on(60), on(62)), 1000)
  one.play(chord(off(62), on(50), on(51)), 2000)
  one.play(chord(off(60)), 3000)
  one.play(chord(off(50), on(70)), 4000)
  one.graph.advance(5000)
  expect(framesOf(one)).toEqual([
    '1000: fern=60, moss=62',
    '2000: moss=50, reed=51',
    '3000: fern dark',
    '4000: moss dark, fern=70',
  ])
})

test('time runs one way', () => {
  const one = run()
  one.graph.advance(5000)
  expect(() => one.graph.play('keys', on(60), 4999)).toThrow(/runs one way: 4999 after 5000/)
  expect(() => one.graph.advance(4000)).toThrow(/runs one way/)
  expect(() => one.graph.play('keys', on(60), 5000.5)).toThrow(/whole microseconds/)
  expect(() => one.graph.play('nobody', on(60), 6000)).toThrow(/Unknown player "nobody"/)
})

test('the time of a shared moment: bytes of one time are one moment until time moves on', () => {
  const one = run()
  one.graph.play('keys', [0x90, 60], 1000)
  one.graph.play('keys', [100], 1000)
  expect(one.of('frame')).toHaveLength(0)
  one.graph.advance(1000)
  expect(framesOf(one)).toEqual(['1000: fern=60'])
})
