import { expect, test } from 'vitest'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { glasshouse } from '../../support/shows.ts'

function run(pass: string[], channel?: number, controllers: { from: number; to: number }[] = []): GraphRun {
  const rig = {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
    outputs: [{ id: 'din', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }],
    lamps: [{ id: 'fern', output: 'din', slot: 0, supply: 'bench', watts: 10 }],
  }
  const songs = [
    {
      id: 'tide',
      title: 'Tide table',
      parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
    },
  ]
  const thru = [
    { player: 'keys', to: 'din', pass, controllers, ...(channel === undefined ? {} : { channel }) },
  ]
  const made = new GraphRun(validShow(glasshouse({ rig, songs, thru } as never)))
  made.events.length = 0
  return made
}

test('controllers and bends go on, renumbered, in the order they came', () => {
  const one = run(['controllers', 'bend'], 16)
  one.graph.play('keys', [0xb2, 1, 33, 0xe2, 0, 80, 0x92, 60, 100, 0xf8], 1000)
  one.graph.advance(1000)
  const sent = one.of('bytes').map(({ bytes }) => Buffer.from(bytes).toString('hex'))
  expect(sent.slice(0, 2)).toEqual(['bf0121', 'ef0050'])
  expect(sent.some((hex) => hex.startsWith('f8') || hex.startsWith('9f'))).toBe(false)
})

test('notes and the clock go on where they are asked for, on their own channel', () => {
  const one = run(['notes', 'clock'])
  one.graph.play('keys', [0xf8, 0x92, 60, 100, 0xfc], 1000)
  one.graph.advance(1000)
  const sent = one.of('bytes').map(({ bytes }) => Buffer.from(bytes).toString('hex'))
  expect(sent).toContain('f8')
  expect(sent).toContain('923c64')
  expect(sent).toContain('fc')
})

test('a player that is gone leaves no note and no pedal behind at the other end', () => {
  const one = run(['notes', 'controllers'], 5)
  one.graph.play('keys', [0x90, 60, 100, 0x90, 64, 100, 0xb0, 64, 127, 0xb0, 1, 90, 0x80, 60, 64], 1000)
  one.graph.advance(1000)
  one.events.length = 0
  one.graph.silence('keys', 2000)
  const sent = one.of('bytes').map(({ bytes }) => Buffer.from(bytes).toString('hex'))
  expect(sent.slice(0, 2)).toEqual(['844040', 'b44000'])
})

test('controllers are renumbered where the thru says so', () => {
  const one = run(['controllers'], 16, [{ from: 1, to: 11 }])
  one.graph.play('keys', [0xb0, 1, 33, 0xb0, 2, 44], 1000)
  one.graph.advance(1000)
  expect(one.of('bytes').map(({ bytes }) => Buffer.from(bytes).toString('hex'))).toEqual(['bf0b21', 'bf022c'])
})
