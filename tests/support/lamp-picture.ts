import { strictEqual } from 'node:assert/strict'
import type { OnLost } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { PictureRow, PictureRows } from './picture-rows.ts'
import { readPicture } from './picture-rows.ts'
import type { PictureEvent } from './picture-events.ts'
import { pictureEvents } from './picture-events.ts'
import type { RawShow } from './shows.ts'
import type { LightMoment } from './strategy-stage.ts'
import { StrategyStage } from './strategy-stage.ts'

export interface PictureSettings {
  /** The strategy's kind. */
  readonly strategy: string
  /** Left out: what its schema gives. */
  readonly options?: Readonly<Record<string, unknown>>
  readonly tempo?: number
  /** The song's, as they stand in a file. */
  readonly patterns?: RawShow[]
  /** Lamps that refuse keys above this one as out of their range. */
  readonly highestKey?: Readonly<Record<string, number>>
  /** What becomes of what sounds on a lamp that another part takes. Left out: it moves. */
  readonly onLost?: OnLost
  /** Length of a column in milliseconds. */
  readonly columnMs?: number
}

/**
 * Plays the notes of a picture to a strategy and compares the lamps it lights with those in the picture. Time goes from left to right:
 *
 *     60      |====----|   key 60: '=' down, '_' key up and a pedal holds it, '#' struck again without a gap, '^' 'v' corrected by an octave up or
 *                          down, '.' or '-' nothing. `60 v40`: struck with velocity 40 (else 100).
 *     all off |..!.....|   everything ends at the mark
 *     fern not|..xxx...|   another part has the lamp
 *     fern no |xx......|   whatever is asked of the lamp is refused
 *     tempo   |..2.....|   '2' twice, 'h' half the tempo from there on
 *     fern    |AaaaBbb.|   what is expected of the lamp: a letter per note, in the order they are struck (within a column: from the top), a capital
 *                          where the lamp is struck in that column, '!' struck and dark again within it, '.' dark
 *
 * A cell shows the lamp as its column ends. Lamps are the part's, in the order of their rows. Within a column notes end, then lamps change hands,
 * then notes begin; a wake comes at its exact time, before anything else of that time. Returns what was lit, for what a picture cannot show.
 */
export function expectPicture(settings: PictureSettings, picture: string): readonly LightMoment[] {
  const rows = readPicture(picture)
  const columnMicros = Math.round((settings.columnMs ?? 10) * 1000)
  const stage = new StrategyStage({
    strategy: settings.strategy,
    options: settings.options ?? {},
    lamps: rows.lamps.map(({ name }) => name),
    tempo: settings.tempo ?? 120,
    patterns: settings.patterns,
    ...(settings.highestKey ? { highestKey: settings.highestKey } : {}),
  })
  const { events, letters } = pictureEvents(rows, columnMicros)
  perform(stage, events, settings.onLost === 'end')
  stage.advance(rows.columns * columnMicros - 1)
  strictEqual(drawn(rows, stage, letters, columnMicros), rows.lines.map((line) => line.text).join('\n'))
  return stage.moments
}

function perform(stage: StrategyStage, events: readonly PictureEvent[], ends: boolean): void {
  for (const { at, what } of events) {
    stage.advance(at)
    switch (what.kind) {
      case 'block':
        stage.block(what.lamp, ends)
        break
      case 'free':
        stage.free(what.lamp)
        break
      case 'refuse':
        stage.setRefusing(what.lamp, what.on)
        break
      case 'tempo':
        stage.setTempo(stage.tempo * what.times)
        break
      default:
        stage.play(what)
    }
  }
}

/** The picture as it came out: its own lines, the lamps' cells drawn anew. */
function drawn(
  rows: PictureRows,
  stage: StrategyStage,
  letters: ReadonlyMap<number, string>,
  columnMicros: Micros,
): string {
  const lines = rows.lines.map(({ text, row }) => {
    if (row?.kind !== 'lamp') return text
    const cells = drawLamp(row, rows.columns, stage.moments, letters, columnMicros)
    return text.replace(/\|[^|]*\|/, `|${cells}|`)
  })
  return lines.join('\n')
}

function drawLamp(
  { name }: PictureRow,
  columns: number,
  moments: readonly LightMoment[],
  letters: ReadonlyMap<number, string>,
  columnMicros: Micros,
): string {
  const mine = moments.filter((moment) => moment.lamp === name)
  let lit = '.'
  let cells = ''
  for (let column = 0; column < columns; column++) {
    let struck = false
    for (const [index, { at, voice }] of mine.entries()) {
      // Only a lamp's last state of a moment leaves for the lamp box.
      if (Math.floor(at / columnMicros) !== column || mine[index + 1]?.at === at) continue
      lit = voice ? (letters.get(voice.note) ?? '?') : '.'
      struck ||= voice !== null && mine.some((other) => other.at === at && other.strike)
    }
    if (struck) cells += lit === '.' ? '!' : lit.toUpperCase()
    else cells += lit
  }
  return cells
}
