import { describe, expect, test } from 'vitest'
import type { RawShow } from '../../support/shows.ts'
import type { LightMoment } from '../../support/strategy-stage.ts'
import { StrategyStage } from '../../support/strategy-stage.ts'

const LAMPS = ['fern', 'moss', 'reed']
/** Drums in four under a line in five meet every twenty (common practice, no source). */
const FIVE = { lamp: 'fern', steps: [60, 0, 0, 0, 0] }
const FOUR = { lamp: 'moss', steps: [60, 0, 0, 0] }

function stageOf(pattern: RawShow, options: RawShow = {}, tempo = 120): StrategyStage {
  const patterns = [{ id: 'five', rows: [FIVE, FOUR], ...pattern }]
  return new StrategyStage({ strategy: 'steps', options, lamps: LAMPS, tempo, patterns })
}

let nextId = 1
function hit(stage: StrategyStage, key = 38): void {
  const note = { id: nextId++, key, channel: 10, velocity: 90 }
  stage.play({ kind: 'note-on', note })
  stage.play({ kind: 'note-off', id: note.id })
}

function strikesOf(moments: readonly LightMoment[], lamp: string): number[] {
  return moments.filter((one) => one.lamp === lamp && one.voice).map(({ at }) => at)
}

/** Every `by`th of the numbers up to `count`. */
function every(by: number, count: number): number[] {
  return Array.from({ length: Math.ceil(count / by) }, (_, index) => index * by)
}

describe('five against four, over 10,000 steps', () => {
  test('by hits at uneven times: the rows meet every twenty steps', () => {
    const stage = stageOf({ gateMs: 5 })
    const times: number[] = []
    for (let step = 0; step < 10_000; step++) {
      stage.advance(stage.now + 20_000 + ((step * 7919) % 90_000))
      times.push(stage.now)
      hit(stage)
      expect(stage.progress?.rows).toEqual([step % 5, step % 4])
    }
    const fives = strikesOf(stage.moments, 'fern')
    const fours = strikesOf(stage.moments, 'moss')
    expect(fives).toEqual(every(5, 10_000).map((step) => times[step]))
    expect(fours).toEqual(every(4, 10_000).map((step) => times[step]))
    expect(fives.filter((at) => fours.includes(at))).toEqual(every(20, 10_000).map((step) => times[step]))
  })

  test.each([97.0625, 120, 133.3333, 61.8034])(
    'by the clock at %d: step n at the first hit + round(n x sixteenth), and the rows meet every twenty',
    (tempo) => {
      const began = 1_234_567
      const stage = stageOf({ advance: 'clock' }, {}, tempo)
      stage.advance(began)
      hit(stage)
      const at = (step: number): number => began + Math.round((step * 15_000_000) / tempo)
      stage.advance(at(9_999))
      const fives = strikesOf(stage.moments, 'fern')
      const fours = strikesOf(stage.moments, 'moss')
      expect(fives).toEqual(every(5, 10_000).map(at))
      expect(fours).toEqual(every(4, 10_000).map(at))
      expect(fives.filter((time) => fours.includes(time))).toEqual(every(20, 10_000).map(at))
      expect(stage.progress?.rows).toEqual([9_999 % 5, 9_999 % 4])
    },
  )

  test('an hour of steps ends where an hour ends', () => {
    const stage = stageOf({ advance: 'clock', rows: [{ lamp: 'fern', steps: [60] }] }, {}, 97.0625)
    hit(stage)
    // 97.0625 beats a minute, four steps a beat: 23,295 in an hour.
    stage.advance(3_600_000_000)
    const strikes = strikesOf(stage.moments, 'fern')
    expect(strikes.length).toBe(23_296)
    expect(strikes.at(-1)).toBe(3_600_000_000)
  })

  test('many small changes of tempo add up to the steps there were', () => {
    const stage = stageOf({ advance: 'clock', rows: [{ lamp: 'fern', steps: [60] }] })
    hit(stage)
    let beats = 0
    const span = 20_833
    for (let change = 0; change < 20_000; change++) {
      beats += (span * stage.tempo) / 60_000_000
      stage.advance(stage.now + span)
      stage.setTempo(110 + (change % 21))
    }
    expect(strikesOf(stage.moments, 'fern').length).toBe(1 + Math.floor(beats * 4))
  })

  test('both: the count is that of the clock and of the hits together', () => {
    const stage = stageOf({
      advance: 'both',
      rows: [{ lamp: 'fern', steps: Array.from({ length: 256 }, () => 60) }],
    })
    hit(stage)
    let moves = 1
    for (let turn = 1; turn <= 1_000; turn++) {
      stage.advance(turn * 125_000)
      hit(stage)
      moves += 2
      expect(stage.progress?.rows).toEqual([(moves - 1) % 256])
    }
  })

  test('muted rows, lamps that are gone and lamps that refuse all keep the count', () => {
    const rows = [FIVE, { ...FOUR, muted: true }, { lamp: 'reed', steps: [60, 60, 60] }]
    const stage = stageOf({ rows })
    stage.block('fern')
    stage.setRefusing('reed', true)
    for (let step = 0; step < 1_000; step++) {
      stage.advance(stage.now + 50_000)
      hit(stage)
      expect(stage.progress?.rows).toEqual([step % 5, step % 4, step % 3])
    }
    expect(stage.moments).toEqual([])
  })
})

describe('as the song begins', () => {
  test('the clock starts by itself, with nobody’s note, and counts from there', () => {
    const stage = stageOf({ advance: 'clock' }, { starts: 'song' })
    stage.advance(2_500_000)
    expect(strikesOf(stage.moments, 'fern')).toEqual([0, 625_000, 1_250_000, 1_875_000, 2_500_000])
    expect(stage.moments[0]?.voice).toMatchObject({ note: 0, key: 60, velocity: 100 })
    hit(stage)
    stage.advance(3_125_000)
    expect(stage.moments.findLast(({ voice }) => voice)?.voice).toMatchObject({ velocity: 90 })
  })

  test('all-off stops it until a hit, which it counts from anew', () => {
    const stage = stageOf({ advance: 'clock' }, { starts: 'song' })
    stage.advance(1_000_000)
    stage.play({ kind: 'all-off' })
    expect(stage.progress?.rows).toEqual([-1, -1])
    stage.advance(60_000_000)
    expect(stage.moments.filter(({ at }) => at > 1_000_000)).toEqual([])
    stage.advance(60_000_001)
    hit(stage)
    stage.advance(61_000_000)
    expect(strikesOf(stage.moments, 'fern').slice(-2)).toEqual([60_000_001, 60_625_001])
  })
})

test('chance comes to the same each time, and to about its share', () => {
  const run = (): number[] => {
    const stage = stageOf({ rows: [{ lamp: 'fern', steps: [{ note: 60, chance: 0.25 }] }] })
    for (let step = 0; step < 4_000; step++) {
      stage.advance(step * 100_000)
      hit(stage)
    }
    return strikesOf(stage.moments, 'fern')
  }
  const strikes = run()
  expect(run()).toEqual(strikes)
  // Four standard deviations of 4,000 draws.
  expect(Math.abs(strikes.length - 1_000)).toBeLessThan(4 * Math.sqrt(4_000 * 0.25 * 0.75))
})

test('a part’s transposition moves what steps sound, and no pad', () => {
  const patterns = [{ id: 'five', rows: [FIVE], pads: [{ key: 38, do: 'advance' }] }]
  const stage = new StrategyStage({
    strategy: 'steps',
    options: {},
    lamps: LAMPS,
    tempo: 120,
    patterns,
    part: { transpose: 12 },
  })
  // The part hands keys on transposed.
  hit(stage, 38)
  expect(stage.moments).toEqual([])
  hit(stage, 50)
  expect(stage.moments[0]?.voice?.key).toBe(72)
})
