import fc from 'fast-check'
import { expect, test } from 'vitest'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import type { MtsMessage } from '../../../src/midi/mts-message.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const key = fc.integer({ min: 57, max: 63 })
const word = fc.integer({ min: 50 * 16384, max: 70 * 16384 })
const program = fc.constantFrom(0, 1, 2)
const device = fc.constant(1)
const tuning: fc.Arbitrary<MtsMessage> = fc.oneof(
  fc.record({
    kind: fc.constant('keys' as const),
    device,
    realTime: fc.boolean(),
    bank: fc.constant(0),
    program,
    changes: fc.array(fc.record({ key, word }), { maxLength: 6 }),
  }),
  fc.record({
    kind: fc.constant('bulk' as const),
    device,
    program,
    name: fc.constant('shore'),
    words: fc.array(word, { minLength: 128, maxLength: 128 }),
  }),
  fc.record({
    kind: fc.constant('octave' as const),
    device,
    realTime: fc.boolean(),
    channels: fc.constantFrom([1], [1, 2], [3]),
    fine: fc.constant(true),
    cents: fc.array(fc.integer({ min: -99, max: 99 }), { minLength: 12, maxLength: 12 }),
  }),
)
const bytes = fc.oneof(
  { weight: 4, arbitrary: key.map((one) => [0x90, one, 90]) },
  { weight: 2, arbitrary: key.map((one) => [0x80, one, 64]) },
  { weight: 3, arbitrary: tuning.map((message) => [0xf0, ...encodeMts(message), 0xf7]) },
  { weight: 1, arbitrary: program.map((one) => [0xb0, 101, 0, 0xb0, 100, 3, 0xb0, 6, one]) },
  // A song that is in another tuning, and back.
  { weight: 1, arbitrary: fc.constantFrom(0, 1).map((one) => [0xc0, one]) },
  { weight: 1, arbitrary: fc.constant([0xff]) },
  { weight: 1, arbitrary: fc.constant([0xb0, 80, 127, 0xb0, 80, 0]) },
)
const played = fc.array(
  fc.record({ player: fc.constant('keys'), bytes, after: fc.constantFrom(0, 0, 3_000, 40_000, 700_000) }),
  { maxLength: 30 },
)
const cuts = fc.array(fc.record({ split: fc.nat(40), advance: fc.boolean(), putDown: fc.boolean() }), {
  minLength: 1,
  maxLength: 20,
})

test.each(['keys', 'bulk', 'octave-fine'])(
  'tunings that come and go by MIDI: split, cut and put down anywhere the same bytes leave at the same times (%s)',
  (form) => {
    const show = showOf(form)
    checkProperty(
      `tunings by MIDI, ${form}`,
      fc.property(played, cuts, (playing, ways) => {
        const whole = new GraphRun(show)
        whole.play(playing)
        whole.runOut(3_000_000)

        const pieces = new GraphRun(show)
        let at = 0
        playing.forEach(({ player, bytes: all, after }, index) => {
          const way = ways[index % ways.length]
          at += after
          if (way?.advance && at - 1 > pieces.graph.now)
            pieces.graph.advance(pieces.graph.now + Math.floor((at - 1 - pieces.graph.now) / 2))
          const split = way?.split ?? 0
          pieces.graph.play(player, all.slice(0, split), at)
          if (way?.putDown) pieces.putDown()
          pieces.graph.play(player, all.slice(split), at)
        })
        pieces.runOut(3_000_000)
        expect(pieces.bytes()).toEqual(whole.bytes())
        expect(pieces.of('frame')).toEqual(whole.of('frame'))
        expect(pieces.of('diagnostic')).toEqual(whole.of('diagnostic'))
      }),
      300,
    )
  },
)

function showOf(form: string) {
  const rig = {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 50 }],
    outputs: [
      { id: 'wire', kind: 'serial', port: 'virtual' },
      { id: 'din', kind: 'midi', port: 'Box', layout: 'mpe', mts: { form } },
    ],
    lamps: [
      { id: 'fern', output: 'wire', slot: 0, supply: 'bench', watts: 10 },
      { id: 'moss', output: 'din', slot: 0, supply: 'bench', watts: 10 },
    ],
  }
  const even = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
  const shore = { id: 'shore', kind: 'received', player: 'keys', program: 1, base: 'even' }
  const parts = [
    {
      id: 'lead',
      player: 'keys',
      lamps: ['fern', 'moss'],
      strategy: { kind: 'lowest-free' },
      glide: { ms: 100, when: 'always' },
    },
  ]
  const songs = [
    { id: 'tide', title: 'Tide table', tuning: 'shore', enter: 'carry', parts },
    { id: 'ebb', title: 'Ebb', tuning: 'even', enter: 'carry', parts },
  ]
  const controls = [
    { player: 'keys', on: { kind: 'program' }, do: 'number' },
    { player: 'keys', on: { kind: 'controller', controller: 80 }, do: { tuning: 'even', retune: true } },
  ]
  return validShow(
    glasshouse({ rig, songs, tunings: [even, shore], switching: { enterAt: 'now', controls } } as never),
  )
}
