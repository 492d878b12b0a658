import { deepStrictEqual } from 'node:assert/strict'
import type { Micros } from '../../src/domain/units.ts'
import { GraphRun } from './graph-run.ts'
import type { RawShow } from './shows.ts'
import { glasshouse } from './shows.ts'
import { validShow } from './valid-show.ts'

const COLUMN: Micros = 10_000

interface Row {
  readonly label: string
  readonly cells: string
}

/**
 * Plays what players do in a picture to a song of these parts, all the way through the graph, and compares the lamps and the claims with those in the picture.
 * Time goes from left to right, a column is 10 ms:
 *
 *     keys 60   |====----|   the player's key 60: '=' down, '.' not
 *     dark      |..!.....|   all is made dark
 *     fern      |AaaaBbb.|   what is expected of the lamp: a letter per note, in the order they are struck (within a column: from the top), a capital where the
 *                            lamp is struck in that column, '.' dark
 *     fern for  |..ll....|   whose claim is expected on it: the first letter of the part, '.' nobody's
 *
 * A cell shows the lamp as its column ends. Within a column notes end, then all is made dark, then notes begin. The rig has the lamps that have a row.
 */
export function expectSongPicture(parts: readonly RawShow[], picture: string): void {
  const rows = picture.trim().split('\n').map(readRow)
  const columns = rows[0]?.cells.length ?? 0
  if (rows.some(({ cells }) => cells.length !== columns)) throw new Error('picture: rows of different length')
  const lamps = rows.flatMap(({ label }) => (isLamp(label) ? [label] : []))
  const run = new GraphRun(validShow(showOf(parts, lamps)))
  const drawn = rows.map(() => '')
  for (let column = 0; column < columns; column++) {
    const struckFrom = run.events.length
    playColumn(run, rows, column)
    run.graph.advance((column + 1) * COLUMN - 1)
    const letters = lettersOf(run)
    const struck = new Set(
      run.events
        .slice(struckFrom)
        .flatMap((event) => (event.kind === 'frame' ? event.changes : []))
        .flatMap(({ lamp, state }) => (state.on && state.strike ? [lamp] : [])),
    )
    rows.forEach(({ label, cells }, index) => {
      const [name = '', what] = label.split(' ')
      const place = lamps.indexOf(name)
      if (place < 0) drawn[index] += cells[column] ?? ''
      else if (what === 'for') drawn[index] += run.graph.claimed[place]?.[0] ?? '.'
      else {
        const lamp = run.graph.lamps[place]
        const letter = lamp?.on ? (letters.get(`${lamp.player} ${lamp.note}`) ?? '?') : '.'
        drawn[index] += struck.has(name) ? letter.toUpperCase() : letter
      }
    })
  }
  deepStrictEqual(
    rows.map(({ label }, index) => `${label} |${drawn[index]}|`),
    rows.map(({ label, cells }) => `${label} |${cells}|`),
  )
  deepStrictEqual(run.of('diagnostic'), [])
}

function playColumn(run: GraphRun, rows: readonly Row[], column: number): void {
  const at = column * COLUMN
  const keys = rows.flatMap(({ label, cells }) => {
    const [player = '', key = ''] = label.split(' ')
    const isDown = cells[column] === '='
    const wasDown = cells[column - 1] === '='
    return /^\d+$/.test(key) && isDown !== wasDown ? [{ player, key: Number(key), isDown }] : []
  })
  for (const { player, key, isDown } of keys) if (!isDown) run.graph.play(player, [0x80, key, 64], at)
  run.graph.advance(at)
  if (rows.some(({ label, cells }) => label === 'dark' && cells[column] === '!')) run.graph.darkAll(at)
  for (const { player, key, isDown } of keys) if (isDown) run.graph.play(player, [0x90, key, 100], at)
  run.graph.advance(at)
}

/** A letter for each note that was struck. */
function lettersOf(run: GraphRun): ReadonlyMap<string, string> {
  const struck = run
    .of('player')
    .flatMap(({ player, event }) => (event.kind === 'note-on' ? [`${player} ${event.note}`] : []))
  return new Map(struck.map((note, place) => [note, String.fromCharCode(97 + place)]))
}

function isLamp(label: string): boolean {
  return /^[a-z]+$/.test(label) && label !== 'dark'
}

function readRow(text: string): Row {
  const found = /^\s*([^|]+?)\s*\|([^|]*)\|\s*$/.exec(text)
  if (!found) throw new Error(`picture: a row is a label and cells between bars: ${text}`)
  return { label: (found[1] ?? '').replaceAll(/\s+/g, ' '), cells: found[2] ?? '' }
}

function showOf(parts: readonly RawShow[], lamps: readonly string[]): RawShow {
  const players = [...new Set(parts.map(({ player }) => String(player)))]
  return glasshouse({
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 100 }],
      outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps: lamps.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
    },
    players: players.map((id) => ({ id, kind: 'keys', input: { port: id } })),
    songs: [{ id: 'tide', title: 'Tide table', parts: [...parts] }],
  })
}
