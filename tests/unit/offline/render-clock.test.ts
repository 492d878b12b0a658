import { expect, test } from 'vitest'
import { render } from '../../../src/offline/render.ts'
import type { Take } from '../../../src/offline/take.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

/** A row of four that the clock moves from the song's beginning, at 97.0625: 154,540 microseconds a sixteenth. */
function rendered(clock: RawShow) {
  const pattern = { id: 'four', advance: 'clock', rows: [{ lamp: 'fern', steps: [60, 62, 64, 65] }] }
  const strategy = { kind: 'steps', starts: 'song' }
  const song = {
    id: 'tide',
    title: 'Tide table',
    tempo: 97.0625,
    parts: [{ id: 'grid', player: 'keys', lamps: ['fern'], strategy }],
    patterns: [pattern],
  }
  const take: Take = { events: [], endsAt: 2_000_000, notesIn: 0, wholeTracks: new Set(), warnings: [] }
  const lines: string[] = []
  const { report } = render(validShow(glasshouse({ songs: [song], clock } as RawShow)), 'tide', take, {
    lamp: (line) => lines.push(line),
  })
  return { lines, report }
}

test('a take has no clock to follow: songs have their own tempo, and it is said', () => {
  const own = rendered({})
  const followed = rendered({ follow: 'Drum tower' })
  expect(own.lines.filter((line) => line.includes('"on":true'))).toHaveLength(13)
  expect(followed.lines).toEqual(own.lines)
  expect(own.report.warnings.filter((text) => text.includes('clock of'))).toEqual([])
  expect(followed.report.warnings).toContainEqual(
    'the clock of "Drum tower" is not in a take: songs are played at their own tempo',
  )
})
