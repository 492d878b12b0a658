import fc from 'fast-check'
import { expect, test } from 'vitest'
import { clockMessages } from '../../../src/midi/clock-messages.ts'
import type { SongTimeIn } from '../../../src/time/song-time.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { CLOCK, CONTINUE, songPosition, START, STOP } from '../../support/midi-clock.ts'
import { checkProperty } from '../../support/property.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const ROWS = [
  { lamp: 'fern', steps: [60, 62, 64, 65, 67], swing: 0.4 },
  { lamp: 'moss', steps: [48, { note: 50, chance: 0.5 }, 0, 52] },
]

function showOf(follow: boolean) {
  const players = [
    { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] }, gateMs: 40 },
    { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } },
  ]
  const part = (id: string, player: string, lamps: string[], strategy: object) => ({
    id,
    player,
    lamps,
    strategy: { ...strategy } as Record<string, never>,
  })
  const songOf = (id: string, enterAt: string, advance: string) => ({
    id,
    title: id,
    tempo: 97.0625,
    enterAt,
    parts: [
      part('grid', 'pads', ['fern', 'moss'], { kind: 'steps', starts: 'song' }),
      part('way', 'keys', ['reed', 'sedge'], { kind: 'travel', move: { every: '1/16' } }),
      part('line', 'keys', ['sedge', 'reed', 'moss'], { kind: 'canon', delay: '1/24' }),
    ],
    patterns: [{ id: 'five-four', name: 'Five and four', advance, division: '1/16', rows: ROWS }],
  })
  const songs = [songOf('tide', 'bar', 'clock'), songOf('dew', 'beat', 'both')]
  return validShow(glasshouse({ players, songs, clock: follow ? { follow: 'Potting shed' } : {} }))
}

type Doing =
  | { readonly do: 'bytes'; readonly bytes: readonly number[] }
  | { readonly do: 'time'; readonly event: SongTimeIn }
  | { readonly do: 'play'; readonly player: string; readonly bytes: readonly number[] }
  | { readonly do: 'song'; readonly song: string }

const clocks = fc.integer({ min: 1, max: 30 }).map((count) => Array.from({ length: count }, () => CLOCK))
const doing: fc.Arbitrary<Doing> = fc.oneof(
  { weight: 8, arbitrary: clocks.map((bytes) => ({ do: 'bytes' as const, bytes })) },
  {
    weight: 4,
    arbitrary: fc
      .oneof(
        fc.constantFrom([START], [STOP], [CONTINUE], [STOP, START], [CONTINUE, CLOCK]),
        fc.integer({ min: 0, max: 0x3fff }).map(songPosition),
        fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 6 }),
      )
      .map((bytes) => ({ do: 'bytes' as const, bytes })),
  },
  {
    weight: 3,
    arbitrary: fc
      .oneof(
        fc.record({
          kind: fc.constant('run' as const),
          do: fc.constantFrom('start' as const, 'stop' as const, 'go-on' as const),
        }),
        fc.record({ kind: fc.constant('tempo' as const), tempo: fc.constantFrom(20, 97.0625, 120, 400) }),
        fc.constantFrom({ kind: 'tap' as const }, { kind: 'gone' as const }),
      )
      .map((event) => ({ do: 'time' as const, event })),
  },
  {
    weight: 5,
    arbitrary: fc
      .tuple(fc.constantFrom('pads', 'keys'), fc.constantFrom(0x80, 0x90), fc.integer({ min: 60, max: 63 }))
      .map(([player, status, key]) => ({
        do: 'play' as const,
        player,
        bytes: [status + (player === 'pads' ? 9 : 0), key, 90],
      })),
  },
  { weight: 1, arbitrary: fc.constantFrom('tide', 'dew').map((song) => ({ do: 'song' as const, song })) },
)
const after = fc.oneof(fc.constantFrom(0, 1, 20_833, 125_000), fc.integer({ min: 0, max: 700_000 }))
const story = fc.array(fc.record({ after, doing }), { maxLength: 40 })

function perform(run: GraphRun, { do: what, ...rest }: Doing, at: number): void {
  const doingNow = { do: what, ...rest } as Doing
  if (doingNow.do === 'bytes') {
    for (const message of clockMessages(doingNow.bytes)) run.graph.tellTime({ kind: 'heard', message }, at)
  } else if (doingNow.do === 'time') run.graph.tellTime(doingNow.event, at)
  else if (doingNow.do === 'play') run.graph.play(doingNow.player, doingNow.bytes, at)
  else run.graph.ask({ to: 'song', song: doingNow.song }, at)
}

test.each([
  { whose: 'a clock that is followed', show: showOf(true) },
  { whose: 'the song’s own time', show: showOf(false) },
])(
  'time cut anywhere, and a graph put down and taken up, give the same bytes by $whose',
  ({ whose, show }) => {
    const ways = fc.array(fc.record({ advance: fc.boolean(), putDown: fc.boolean() }), {
      minLength: 1,
      maxLength: 12,
    })
    checkProperty(
      `same bytes by ${whose}`,
      fc.property(story, ways, (doings, cuts) => {
        const whole = new GraphRun(show)
        const pieces = new GraphRun(show)
        let at = 1
        doings.forEach(({ after: wait, doing: one }, index) => {
          at += wait
          perform(whole, one, at)
          const way = cuts[index % cuts.length]
          const between = pieces.graph.now + Math.floor((at - 1 - pieces.graph.now) / 2)
          if (way?.advance && between > pieces.graph.now) pieces.graph.advance(between)
          if (way?.putDown) pieces.putDown()
          perform(pieces, one, at)
        })
        for (const run of [whole, pieces]) run.graph.advance(at + 2_000_000)
        expect(pieces.bytes()).toEqual(whole.bytes())
        expect(pieces.of('step')).toEqual(whole.of('step'))
        expect(pieces.of('time')).toEqual(whole.of('time'))
        for (const { tempo, clock } of whole.of('time')) {
          expect(Number.isFinite(tempo) && tempo >= 10 && tempo <= 1000).toBe(true)
          expect(Number.isFinite(clock.beats)).toBe(true)
        }
      }),
      300,
    )
  },
)

/** What a counter on paper has after those bytes: the clock that came last, from 0; null: none since it was led somewhere. */
class PaperCount {
  #next = 0
  #isRunning = true
  last: number | null = null

  hear(bytes: readonly number[]): void {
    for (const message of clockMessages(bytes)) {
      if (message.kind === 'start') this.#lead(0, true)
      else if (message.kind === 'stop') this.#isRunning = false
      else if (message.kind === 'continue') this.#isRunning = true
      else if (message.kind === 'position') {
        if (!this.#isRunning) this.#lead(message.clocks, false)
      } else if (this.#isRunning) this.last = this.#next++
    }
  }

  #lead(next: number, isRunning: boolean): void {
    this.#next = next
    this.#isRunning = isRunning
    this.last = null
  }
}

test('whatever comes and when, a pattern stands where the count of clocks has it, and nothing stays lit by it', () => {
  const show = showOf(true)
  const heard = fc.array(
    fc.record({ after, bytes: doing.map((one) => (one.do === 'bytes' ? one.bytes : [CLOCK])) }),
    { maxLength: 60 },
  )
  checkProperty(
    'steps are the count of clocks',
    fc.property(heard, (pieces) => {
      const run = new GraphRun(show)
      const paper = new PaperCount()
      let at = 1
      for (const { after: wait, bytes } of pieces) {
        at += wait
        perform(run, { do: 'bytes', bytes }, at)
        paper.hear(bytes)
        if (paper.last === null) continue
        const step = Math.floor(paper.last / 6)
        expect(run.of('step').at(-1)?.rows).toEqual([step % 5, step % 4])
      }
      run.runOut(2_000_000)
      expect(run.litLamps()).toEqual([])
    }),
    200,
  )
})
