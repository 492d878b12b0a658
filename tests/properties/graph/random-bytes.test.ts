import { expect, test } from 'vitest'
import { nextRandom } from '../../../src/domain/random.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { startingSeed } from '../../support/starting-seed.ts'
import { validShow } from '../../support/valid-show.ts'
import { richShow } from '../../support/rich-show.ts'

test('1,000,000 random bytes through the whole graph never throw, and dark-all darkens what they lit', () => {
  const show = validShow(richShow())
  const run = new GraphRun(show)
  run.events.length = 0
  const players = show.players.map(({ id }) => id)
  let seed = startingSeed('random bytes through the graph')
  const random = (): number => {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    return drawn.value
  }
  let sent = 0
  let lit = 0
  for (let at = 0; sent < 1_000_000; at += Math.floor(random() * 3_000)) {
    const bytes = Uint8Array.from({ length: 1 + Math.floor(random() * 12) }, () => Math.floor(random() * 256))
    sent += bytes.length
    run.graph.play(players[Math.floor(random() * players.length)] ?? '', bytes, Math.max(at, run.graph.now))
    lit += run.of('frame').length
    expect(run.of('diagnostic').filter(({ diagnostic }) => diagnostic.level === 'fault')).toEqual([])
    run.events.length = 0
  }
  expect(lit).toBeGreaterThan(100)
  run.graph.darkAll(run.graph.now + 1)
  expect(run.litLamps()).toEqual([])
})
