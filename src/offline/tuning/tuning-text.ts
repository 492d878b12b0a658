import { Midi } from 'tonal'
import type { Key } from '../../domain/units.ts'
import { keyName, keySpans } from '../check/key-spans.ts'
import { figure, lampsNamed, listed } from '../check/listed.ts'
import { HEARD_CENTS } from '../check/pitch-table.ts'
import type { KeyPitch } from '../pitch-rows.ts'
import { tuningWords } from '../sheet/song-words.ts'
import { chordText } from './chord-text.ts'
import type { Farthest, LampGroup, PartTuning } from './part-tuning.ts'
import { farthestOf } from './part-tuning.ts'
import { signed, textTable } from './text-table.ts'

const COLUMNS = [
  { head: 'note', isText: true },
  { head: 'key' },
  { head: 'Hz wanted' },
  { head: 'octaves' },
  { head: 'Hz made' },
  { head: 'cents' },
] as const

/** Of how many hertz no more is told than that they are under it. */
const PLACES = 4

/** How parts are in tune, as a person reads it in a terminal, the farthest pitch last; no line feed at the end. */
export function tuningText(parts: readonly PartTuning[]): string {
  const blocks = parts.map((part) => partLines(part).join('\n'))
  return [...blocks, farthestText(farthestOf(parts))].join('\n\n')
}

function partLines(tuned: PartTuning): string[] {
  const { chord, groups, never } = tuned
  const body = chord
    ? chordText(chord)
    : [
        ...groups.flatMap(groupLines),
        ...(never.length === 0 ? [] : [`${lampsNamed(never, Infinity)}: no note of this part goes there`]),
      ]
  return [...headLines(tuned), ...body.map((line) => `  ${line}`.trimEnd())]
}

function headLines({ song, part, tuning, base, motions, pulseHz }: PartTuning): string[] {
  const moved = part.transpose === 0 ? '' : `, moved by ${signed(part.transpose, 0)} keys`
  const resting =
    pulseHz === undefined
      ? motions.length === 0
        ? []
        : [`the part has ${listed(motions)}: these are the steady pitches`]
      : [
          `a pulse without a controller: lamps flash ${figure(pulseHz)} times a second, and never come to these pitches`,
        ]
  return [
    `song ${song.id} "${song.title}", part ${part.id}, player ${part.player}${moved}`,
    ...[
      `tuning ${tuning.id}: ${tuningWords(tuning)}`,
      ...(base === undefined ? [] : [`until that comes, these are the pitches of tuning ${base}`]),
      ...resting,
    ].map((line) => `  ${line}`),
  ]
}

function groupLines({ lamps, rows }: LampGroup): string[] {
  const table = textTable(COLUMNS, rows.flatMap(rowCells))
  const unmapped = rows.filter(({ asked }) => asked === null).map(({ key }) => key)
  const refused = rows
    .filter(({ asked, octaves }) => asked !== null && octaves === null)
    .map(({ key }) => key)
  return [
    lampsNamed(lamps, Infinity),
    ...(table.length > 1 ? table : []).map((line) => `  ${line}`),
    ...keysSaid(unmapped, 'the tuning has no pitch for'),
    ...keysSaid(refused, 'dark, since no octave of them is within what lamp and output can do:'),
  ]
}

function keysSaid(keys: readonly Key[], what: string): string[] {
  return keys.length === 0 ? [] : [`  ${what} ${keySpans(keys)}`]
}

function rowCells({ key, asked, octaves, realHz, cents }: KeyPitch): string[][] {
  if (asked === null || octaves === null || realHz === undefined || cents === undefined) return []
  return [
    [
      Midi.midiToNoteName(key, { sharps: true }),
      String(key),
      asked.toFixed(PLACES),
      signed(octaves, 0),
      realHz.toFixed(PLACES),
      signed(cents, PLACES),
    ],
  ]
}

function farthestText(worst: Farthest | undefined): string {
  if (!worst) return 'No lamp comes to a pitch here.'
  const { song, part, lamps, key, hz, realHz, cents } = worst
  return (
    `Farthest off: key ${keyName(key)} of song ${song}, part ${part} on ${lampsNamed(lamps)}: ` +
    `${figure(hz, 7)} Hz asked, ${figure(realHz, 7)} Hz made, ${signed(cents, PLACES)} cents.\n` +
    `About ${HEARD_CENTS} cents are heard (common practice, no source). These are roundings alone: how true the clock of a lamp box runs comes on top.`
  )
}
