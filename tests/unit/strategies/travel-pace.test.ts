import { describe, expect, test } from 'vitest'
import { expectPicture } from '../../support/lamp-picture.ts'
import { StrategyStage } from '../../support/strategy-stage.ts'

const lamps = ['fern', 'moss', 'reed', 'sedge']

/** Times at which a held note moved, from a stage that starts it at `anchor`. */
function movesOf(move: unknown, tempo: number, anchor: number, until: number): number[] {
  const stage = new StrategyStage({ strategy: 'travel', options: { move }, lamps, tempo })
  stage.advance(anchor)
  stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
  stage.advance(until)
  return stage.moments.filter(({ voice }) => voice).map(({ at }) => at)
}

describe('travel: pace', () => {
  test.each([97.0625, 120, 133.3333, 61.8034])(
    'every 1/16 at %d: 1,000 moves, each at anchor + round(n x step)',
    (tempo) => {
      const anchor = 1_234_567
      const step = 15_000_000 / tempo
      const moves = movesOf({ every: '1/16' }, tempo, anchor, anchor + Math.round(1000 * step))
      expect(moves).toEqual(Array.from({ length: 1001 }, (_, n) => anchor + Math.round(n * step)))
    },
  )

  test('an hour of moves ends where an hour ends', () => {
    const moves = movesOf({ every: '1/16' }, 97.0625, 0, 3_600_000_000)
    // 97.0625 beats a minute, four moves a beat: 23,295 in an hour.
    expect(moves.length).toBe(23_296)
    expect(moves.at(-1)).toBe(3_600_000_000)
  })

  test('everyMs: fractions of a millisecond do not drift, nor do a thousand new tempos move them', () => {
    const stage = new StrategyStage({
      strategy: 'travel',
      options: { move: { everyMs: 33.3333 } },
      lamps,
      tempo: 100,
    })
    stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
    for (let time = 1; time <= 1000; time++) {
      stage.advance(time * 33_001)
      stage.setTempo(60 + (time % 100))
    }
    const moves = stage.moments.filter(({ voice }) => voice).map(({ at }) => at)
    expect(moves).toEqual(Array.from({ length: moves.length }, (_, n) => Math.round(n * 33_333.3)))
    expect(moves.length).toBe(991)
  })

  test('a new tempo: the rest of the step takes its share of the new one', () => {
    // 1/16 at 120 is 125 ms. 50 ms into the third step the tempo halves: 75 ms of it are left, so 150 ms.
    expectPicture(
      { strategy: 'travel', options: { move: { every: '1/16' } }, tempo: 120, columnMs: 25 },
      `
      tempo |............h.............2......|
      60    |=================================|
      fern  |Aaaaa......................Aaaaa.|
      moss  |.....Aaaaa......................A|
      reed  |..........Aaaaaaaa...............|
      sedge |..................Aaaaaaaaa......|
      `,
    )
  })

  test('many small changes of tempo add up to the beats there were', () => {
    const stage = new StrategyStage({
      strategy: 'travel',
      options: { move: { every: '1/4' } },
      lamps,
      tempo: 120,
    })
    stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
    let beats = 0
    const span = 20_833
    for (let change = 0; change < 20_000; change++) {
      beats += (span * stage.tempo) / 60_000_000
      stage.advance(stage.now + span)
      stage.setTempo(110 + (change % 21))
    }
    const moves = stage.moments.filter(({ voice }) => voice).length - 1
    expect(moves).toBe(Math.floor(beats))
  })

  test('what happens at the very moment of a move comes after it', () => {
    const stage = new StrategyStage({
      strategy: 'travel',
      options: { move: { everyMs: 10 }, overlapMs: 5 },
      lamps,
      tempo: 120,
    })
    stage.play({ kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 90 } })
    stage.advance(9_999)
    stage.now = 10_000
    stage.play({ kind: 'gained', lamp: 'sedge' })
    stage.advance(20_000)
    expect(stage.moments.map(({ at, lamp, voice }) => [at, lamp, voice !== null])).toEqual([
      [0, 'fern', true],
      [10_000, 'moss', true],
      [15_000, 'fern', false],
      [20_000, 'reed', true],
    ])
  })
})
