import { Midi } from 'tonal'
import type { MidiOutput, Output, SerialOutput } from '../../domain/rig.ts'
import type { ScaleTuning } from '../../domain/tuning-spec.ts'
import type { Cents, Hz, Key } from '../../domain/units.ts'
import { scaleKeyCents, scaleKeyToHz } from '../../tuning/scale.ts'
import { quantise } from '../../tuning/quantise.ts'
import { keyName, keySpans } from '../check/key-spans.ts'
import { counted, figure } from '../check/listed.ts'
import { rounded } from '../../domain/rounded.ts'
import { signed, textTable } from './text-table.ts'

/** What an output that is as most are makes of a pitch. */
export interface Made {
  readonly hz: Hz
  readonly cents: Cents
}

export interface ScaleRow {
  readonly key: Key
  readonly hz: Hz
  /** Above the scale's 1/1. */
  readonly cents: Cents
  /** A 16-bit timer at 16 MHz, and a 14-bit bend of two semitones; undefined where they do not reach. */
  readonly timer: Made | undefined
  readonly bend: (Made & { readonly key: Key; readonly bend: number }) | undefined
}

const WIRE: SerialOutput = {
  id: 'timer',
  kind: 'serial',
  port: '',
  baud: 500_000,
  timer: { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 },
  offsetMs: 0,
}
const DIN: MidiOutput = {
  id: 'bend',
  kind: 'midi',
  port: '',
  layout: 'channel-per-lamp',
  firstChannel: 1,
  firstNote: 36,
  bendRange: 2,
  bendBits: 14,
  offsetMs: 0,
}

/** The keys 0 to 127 that the scale has a pitch for. */
export function scaleRows(tuning: ScaleTuning): ScaleRow[] {
  return Array.from({ length: 128 }, (_, key) => key).flatMap((key): ScaleRow[] => {
    const hz = scaleKeyToHz(tuning, key)
    const cents = scaleKeyCents(tuning, key)
    if (hz === undefined || cents === undefined) return []
    return [{ key, hz, cents, timer: made(hz, WIRE), bend: bent(hz) }]
  })
}

function made(hz: Hz, output: Output): Made | undefined {
  const found = quantise(hz, output, 0)
  return found && { hz: found.realHz, cents: found.cents }
}

function bent(hz: Hz): ScaleRow['bend'] {
  const found = quantise(hz, DIN, 0)
  if (found?.drive.kind !== 'bend') return undefined
  return { hz: found.realHz, cents: found.cents, key: found.drive.key, bend: found.drive.bend }
}

const COLUMNS = [
  { head: 'note', isText: true },
  { head: 'key' },
  { head: 'Hz' },
  { head: 'cents above 1/1' },
  { head: 'timer Hz' },
  { head: 'cents off' },
  { head: 'bend' },
  { head: 'bend Hz' },
  { head: 'cents off' },
] as const

/** A scale's keys as a person reads them in a terminal, the farthest off last; no line feed at the end. */
export function scaleText(tuning: ScaleTuning): string {
  const rows = scaleRows(tuning)
  const without = Array.from({ length: 128 }, (_, key) => key).filter(
    (key) => !rows.some((row) => row.key === key),
  )
  return [
    `${tuning.name === '' ? 'a scale' : tuning.name}: ${counted(tuning.pitches.length, 'degree')}; ${keyName(tuning.refNote)} sounds ${figure(tuning.refHz, 10)} Hz`,
    ...textTable(COLUMNS, rows.map(cells)).map((line) => `  ${line}`),
    ...(without.length === 0 ? [] : [`  no pitch for ${keySpans(without)}`]),
    '',
    farthest(rows, 'a 16-bit timer at 16 MHz', ({ timer }) => timer),
    farthest(rows, 'a 14-bit bend of 2 semitones', ({ bend }) => bend),
    'Before any lamp moves octaves into its range. These are roundings alone: how true a clock runs comes on top.',
  ].join('\n')
}

function cells({ key, hz, cents, timer, bend }: ScaleRow): string[] {
  return [
    Midi.midiToNoteName(key, { sharps: true }),
    String(key),
    hz.toFixed(4),
    cents.toFixed(4),
    ...(timer ? [timer.hz.toFixed(4), signed(timer.cents, 4)] : ['cannot', '']),
    ...(bend
      ? [`${bend.key} ${signed(bend.bend - 8192, 0)}`, bend.hz.toFixed(4), signed(bend.cents, 4)]
      : ['cannot', '', '']),
  ]
}

function farthest(rows: readonly ScaleRow[], what: string, of: (row: ScaleRow) => Made | undefined): string {
  const able = rows.flatMap((row) => {
    const one = of(row)
    return one ? [{ key: row.key, ...one }] : []
  })
  const worst = able.reduce<(typeof able)[number] | undefined>(
    (a, b) => (a && Math.abs(a.cents) >= Math.abs(b.cents) ? a : b),
    undefined,
  )
  if (!worst) return `${what} makes none of these.`
  const out =
    rows.length === able.length ? '' : `, and it cannot make ${rows.length - able.length} of ${rows.length}`
  return `Farthest off by ${what}: key ${keyName(worst.key)}, ${signed(worst.cents, 4)} cents${out}.`
}

/** The same as lines of JSON: `scale`, then a `key` for each. */
export function scaleJson(tuning: ScaleTuning): string[] {
  const { name, pitches, refNote, refHz } = tuning
  const lines: object[] = scaleRows(tuning).map(({ key, hz, cents, timer, bend }) => ({
    kind: 'key',
    key,
    note: Midi.midiToNoteName(key, { sharps: true }),
    hz: rounded(hz, 6, 'hz'),
    cents: rounded(cents, 6, 'cents'),
    timer: timer && { hz: rounded(timer.hz, 6, 'hz'), cents: rounded(timer.cents, 6, 'cents') },
    bend: bend && { ...bend, hz: rounded(bend.hz, 6, 'hz'), cents: rounded(bend.cents, 6, 'cents') },
  }))
  return [{ kind: 'scale', name, degrees: pitches.length, refNote, refHz }, ...lines].map((line) =>
    JSON.stringify(line),
  )
}
