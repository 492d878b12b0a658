import type { OutputId } from '../../domain/ids.ts'
import type { Output } from '../../domain/rig.ts'
import type { Key } from '../../domain/units.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import type { KeyFigures } from './key-figures.ts'
import { keyName } from './key-spans.ts'
import { counted, figure, lampsNamed } from './listed.ts'
import type { Pitch, PitchTable } from './pitch-table.ts'
import { HEARD_CENTS } from './pitch-table.ts'
import { soundsPitch } from './sounds-pitch.ts'
import type { Survey, SurveyedLamp } from './survey.ts'

interface Tally {
  /** Per lamp and table, the keys that are off, so that no pitch counts twice however many parts play it. */
  readonly off: Map<string, Map<PitchTable, Set<Key>>>
  readonly seen: Map<string, Set<KeyFigures>>
  worst?: {
    readonly pitch: Exclude<Pitch, string>
    readonly played: Key
    readonly lamp: string
    readonly place: string
  }
}

/** Per output, the pitches that it misses by more than is heard, bends apart. */
export function tuningErrorFindings({ show, songs }: Survey): CheckFinding[] {
  const tallies = new Map<OutputId, Tally>()
  for (const { parts } of songs) {
    for (const { part, lamps, place } of parts)
      if (soundsPitch(part)) for (const one of lamps) tally(tallies, one, place.where)
  }
  return show.rig.outputs.flatMap((output, index) => {
    const found = tallies.get(output.id)
    return found ? tell(output, index, found) : []
  })
}

function tally(tallies: Map<OutputId, Tally>, { lamp, output, figures }: SurveyedLamp, place: string): void {
  if (figures.off.length === 0) return
  const own: Tally = tallies.get(output.id) ?? { off: new Map(), seen: new Map() }
  tallies.set(output.id, own)
  const seen = own.seen.get(lamp.id) ?? new Set()
  own.seen.set(lamp.id, seen)
  if (seen.has(figures)) return
  seen.add(figures)
  const tables = own.off.get(lamp.id) ?? new Map<PitchTable, Set<Key>>()
  own.off.set(lamp.id, tables)
  const keys = tables.get(figures.table) ?? new Set()
  tables.set(figures.table, keys)
  for (const played of figures.off) {
    const sounding = played + figures.transpose
    const pitch = figures.table.pitch(sounding)
    if (typeof pitch === 'string') continue
    keys.add(sounding)
    if (Math.abs(pitch.cents) > Math.abs(own.worst?.pitch.cents ?? 0))
      own.worst = { pitch, played, lamp: lamp.id, place }
  }
}

function tell(output: Output, index: number, { off, worst }: Tally): CheckFinding[] {
  if (!worst) return []
  const { pitch, lamp, place } = worst
  const count = [...off.values()].reduce(
    (sum, tables) => sum + [...tables.values()].reduce((n, keys) => n + keys.size, 0),
    0,
  )
  const message =
    `${counted(count, 'pitch').replace(/pitchs$/, 'pitches')} of ${lampsNamed([...off.keys()])} on output ${output.id} ${count === 1 ? 'is' : 'are'} more than ${HEARD_CENTS} cents off. ` +
    `The worst is key ${keyName(worst.played)} of ${place} on lamp ${lamp}: ${figure(pitch.hz, 6)} Hz asked, ${figure(pitch.realHz, 6)} Hz made, ` +
    `${pitch.cents > 0 ? '+' : ''}${pitch.cents.toFixed(1)} cents. ${advice(output)}`
  return [{ gravity: 'warning', ...placeAt(['rig', 'outputs', index]), message }]
}

function advice(output: Output): string {
  if (output.kind === 'serial') return 'A faster clock or finer prescalers help, and so does a lower highHz.'
  if (output.layout === 'note-per-lamp')
    return 'On this layout a lamp is one fixed key, whatever is asked of it: a chime that names those keys is in tune.'
  return 'A wider bendRange helps.'
}
