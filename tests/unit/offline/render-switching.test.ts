import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { render } from '../../../src/offline/render.ts'
import type { Take } from '../../../src/offline/take.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const SECOND = 1_000_000

const song = (id: string, lamps: string[], more: RawShow = {}): RawShow => ({
  id,
  title: id,
  parts: [{ id: `${id}-lead`, player: 'keys', lamps, strategy: { kind: 'lowest-free' } }],
  ...more,
})

const SHOW = validShow(
  glasshouse({
    songs: [
      song('tide', ['fern', 'moss']),
      song('dew', ['moss', 'reed'], { enter: 'carry' }),
      song('mist', ['sedge'], { enterAt: 'bar' }),
    ],
    switching: {
      controls: [
        { player: 'keys', on: { kind: 'program' }, do: 'number' },
        { player: 'keys', on: { kind: 'note', key: 36 }, do: 'next' },
      ],
    },
  } as RawShow),
)

function takeOf(...events: [at: number, message: Record<string, unknown>][]): Take {
  const played = events.map(([at, message]) => ({
    at: at * SECOND,
    player: 'keys',
    message: { channel: 1, ...message } as MidiMessage,
  }))
  const notesIn = played.filter(({ message }) => message.type === 'note-on').length
  return { events: played, endsAt: 9 * SECOND, notesIn, wholeTracks: new Set(), warnings: [] }
}

const on = (key: number) => ({ type: 'note-on', key, velocity: 90 })
const off = (key: number) => ({ type: 'note-off', key, velocity: 64 })

function rendered(song: string, take: Take) {
  const lines: string[] = []
  const sound: number[] = []
  const { report } = render(SHOW, song, take, {
    lamp: (line) => {
      const { t, lamp, part } = JSON.parse(line) as { t: number; lamp: string; part?: string }
      lines.push(`${t} ${lamp} ${part ?? 'dark'}`)
    },
    sound: (block) => {
      const view = new DataView(block.buffer, block.byteOffset, block.length)
      for (let at = 0; at < block.length; at += 2) sound.push(view.getInt16(at, true))
    },
  })
  const loudest = (from: number, to: number): number =>
    Math.max(...sound.slice(from * 48_000, to * 48_000).map(Math.abs))
  return { lines, report, loudest }
}

test('a take that works controls is rendered through its songs, each lamp with the part of the song that plays', () => {
  const take = takeOf(
    [1, on(60)],
    [1, on(64)],
    [2, { type: 'program', program: 1 }],
    [3, off(60)],
    [3.1, off(64)],
    [3.5, on(36)],
    [3.6, off(36)],
    [3.75, on(67)],
    [4.5, off(67)],
    [5, on(72)],
    [6, off(72)],
  )
  const { lines, report, loudest } = rendered('tide', take)
  expect(lines).toEqual([
    '1 fern tide-lead',
    '1 moss tide-lead',
    // 60 moves to moss, where 64 was; 64 to reed.
    '2 fern dark',
    '2 moss dew-lead',
    '2 reed dew-lead',
    '3 moss dark',
    '3.1 reed dark',
    // Asked for at 3.5 s, mist begins with the next bar of dew, which began at 2 s: at 4 s.
    '3.75 moss dew-lead',
    '4 moss dark',
    '5 sedge mist-lead',
    '6 sedge dark',
  ])
  // Of five note-ons one is a control and four are notes.
  expect(report).toMatchObject({ notesIn: 4, unplaced: 0, switches: 2, changes: 11, warnings: [] })
  // The lamp of the third song is heard as those of the first.
  expect(loudest(5.25, 5.75)).toBeGreaterThan(1_000)
  expect(loudest(6.5, 7)).toBeLessThan(50)
})

test('--song says where it begins, and the same take gives the same lines', () => {
  const take = takeOf([1, on(60)], [2, { type: 'program', program: 0 }], [3, on(62)], [4, off(62)])
  const { lines, report } = rendered('mist', take)
  expect(lines).toEqual(['1 sedge mist-lead', '2 sedge dark', '3 fern tide-lead', '4 fern dark'])
  expect(report.switches).toBe(1)
  expect(rendered('mist', take).lines).toEqual(lines)
  const none = rendered('mist', takeOf([1, { type: 'program', program: 40 }]))
  expect(none.report.warnings).toEqual(['switching: place 41 was asked for, and the set list has 3 places'])
})
