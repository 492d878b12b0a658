import type { LampId } from '../../src/domain/ids.ts'
import type { AnyStrategy } from '../../src/strategies/strategy.ts'
import { readyOptions } from '../../src/strategies/strategy.ts'
import type { RawShow } from './shows.ts'
import { glasshouse } from './shows.ts'
import { validShow } from './valid-show.ts'

/** What a strategy starts with that plays patterns: its options and the song's patterns, as they stand in a file, for a part of these lamps. `more`: of the part. */
export function readyPatterns(
  strategy: AnyStrategy,
  options: RawShow,
  lamps: readonly LampId[],
  patterns: RawShow[],
  more: RawShow = {},
): unknown {
  const raw = glasshouse()
  const rig = raw['rig'] as RawShow
  const spec = { kind: strategy.kind, ...options }
  const part = { id: 'lead', player: 'keys', lamps: [...lamps], strategy: spec, ...more }
  const show = validShow({
    ...raw,
    rig: {
      ...rig,
      lamps: lamps.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
    },
    songs: [{ id: 'tide', title: 'Tide table', parts: [part], patterns }],
  })
  const [song] = show.songs
  const [first] = song?.parts ?? []
  if (!song || !first) throw new Error('a song without its part')
  return readyOptions(strategy, song, first)
}
