import { describe, expect, test } from 'vitest'
import { readMidiFile } from '../../src/midi/file-read.ts'
import { render } from '../../src/offline/render.ts'
import { routeTake } from '../../src/offline/take.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { validShow } from '../support/valid-show.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../support/performances.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../support/shows.ts'

const NEEDED: Record<string, object> = { chime: { notes: [36, 38, 42, 46] } }

/** Every hit strikes every lamp, so that each is seen. */
const PATTERNS = [
  {
    id: 'five',
    advance: 'hit',
    rows: GLASSHOUSE_LAMPS.map((lamp, row) => ({
      lamp,
      steps: Array.from({ length: row + 2 }, (_, step) => 48 + row + step),
    })),
  },
]

/** The glasshouse with one part of the given strategy, for a keyboard or for pads. */
function showWith(kind: string, player: 'keys' | 'pads') {
  const players = [
    {
      id: 'band',
      kind: player,
      input: { port: 'Band', channels: Array.from({ length: 16 }, (_, i) => i + 1) },
    },
  ]
  const strategy = { kind, ...NEEDED[kind] }
  const part = { id: 'lead', player: 'band', lamps: [...GLASSHOUSE_LAMPS], strategy }
  const patterns = kind === 'steps' ? PATTERNS : []
  const song = { id: 'tide', title: 'Tide table', parts: [part], patterns }
  return validShow(glasshouse({ players, songs: [song] } as never))
}

interface Line {
  readonly t: number
  readonly lamp: string
  readonly on: boolean
  readonly note?: number
}

describe('real performances (Groove MIDI Dataset; test data of partitura and of music21)', () => {
  skipWithoutPerformances()

  test('there are nine of them', () => {
    expect(performancePaths()).toHaveLength(9)
  })

  describe.each(strategies.map(({ kind }) => kind))('%s', (kind) => {
    test.each(performancePaths().length === 0 ? ['none'] : performancePaths())(
      'renders %s without fault',
      (path) => {
        const read = readMidiFile(performanceBytes(path))
        if (!read.ok) throw new Error(read.error.what)
        const show = showWith(kind, path.startsWith('groove') ? 'pads' : 'keys')
        const routed = routeTake(read.file, show)
        if (!routed.ok) throw new Error(routed.what)
        const lines: Line[] = []
        const { report } = render(show, 'tide', routed.take, {
          lamp: (line) => lines.push(JSON.parse(line) as Line),
        })

        // An independent count of the note-ons in the file's events.
        const noteOns = read.file.tracks
          .flatMap(({ events }) => events)
          .filter(({ message }) => message.type === 'note-on')
        expect(report.notesIn).toBe(noteOns.length)
        // Every note-on ends in a lamp or in the count of unplaced notes: a strike that lit a lamp shows its key there at its time or after.
        expect(report.unplaced).toBeGreaterThanOrEqual(0)
        const lit = lines.filter(({ on }) => on)
        expect(lit.length).toBeGreaterThanOrEqual(report.notesIn - report.unplaced)
        const isPool = ['rotate', 'nearest', 'lowest-free'].includes(kind)
        expect(report.unplaced).toBeLessThanOrEqual(isPool ? noteOns.length / 4 : noteOns.length)

        const dark = new Map<string, boolean>()
        for (const { lamp, on } of lines) dark.set(lamp, !on)
        expect([...dark.values()].every(Boolean)).toBe(true)
        expect(
          report.warnings.filter((text) => text.includes('stage-failed') || text.includes('still lit')),
        ).toEqual([])
        expect(report.guards.refused).toBe(0)
      },
    )
  })
})
