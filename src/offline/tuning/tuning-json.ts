import { Midi } from 'tonal'
import type { ChordTone } from '../chord.ts'
import { rounded } from '../../domain/rounded.ts'
import type { PartTuning } from './part-tuning.ts'
import { farthestOf } from './part-tuning.ts'

type Line = Readonly<Record<string, unknown>>

/**
 * The same as lines of JSON: `part`, then its `key` lines or a chord's `tone`, `silent`, `interval` and `beat` lines, and `farthest` last. Hz to 6 places, cents and beats
 * a second to 6.
 */
export function tuningJson(parts: readonly PartTuning[]): string[] {
  const worst = farthestOf(parts)
  const last: Line[] = worst
    ? [{ kind: 'farthest', ...worst, ...figures(worst.hz, worst.realHz, worst.cents) }]
    : []
  return [...parts.flatMap(partLines), ...last].map((line) => JSON.stringify(line))
}

function partLines({ song, part, tuning, base, motions, pulseHz, groups, never, chord }: PartTuning): Line[] {
  const place = { song: song.id, part: part.id }
  const { transpose, player } = part
  const head: Line = {
    kind: 'part',
    ...place,
    player,
    transpose,
    tuning: tuning.id,
    base,
    motions,
    pulseHz,
    never: never.length > 0 ? never : undefined,
  }
  if (!chord)
    return [
      head,
      ...groups.flatMap(({ lamps, rows }) =>
        rows.map(({ key, asked, octaves, hz, realHz, cents }): Line => {
          const at = { ...place, lamps, ...named(key) }
          if (asked === null) return { kind: 'silent', ...at, why: 'unmapped' }
          if (octaves === null) return { kind: 'silent', ...at, why: 'range' }
          return { kind: 'key', ...at, wantedHz: six(asked), octaves, ...figures(hz, realHz, cents) }
        }),
      ),
    ]
  return [
    head,
    ...chord.tones.map(({ hz, realHz, cents, wantedHz, ...tone }): Line => ({
      kind: 'tone',
      ...place,
      ...tone,
      ...named(tone.key),
      wantedHz: six(wantedHz),
      ...figures(hz, realHz, cents),
    })),
    ...chord.refused.map((one): Line => ({ kind: 'silent', ...place, ...one, ...named(one.key) })),
    ...chord.intervals.map(({ lower, upper, partials, wantedRatio, ...cents }): Line => ({
      kind: 'interval',
      ...place,
      lower: toneName(lower),
      upper: toneName(upper),
      sounds: chord.sounds,
      wantedRatio: rounded(wantedRatio, 9, 'ratio'),
      ...Object.fromEntries(Object.entries(cents).map(([name, value]) => [name, six(value)])),
      partials: partials && {
        ratio: partials.ratio.join(':'),
        wantedBeats: six(partials.wantedBeats),
        beats: six(partials.beats),
      },
    })),
    ...chord.beats.map(({ one, other, hz }): Line => ({
      kind: 'beat',
      ...place,
      one: toneName(one),
      other: toneName(other),
      hz: six(hz),
    })),
  ]
}

function named(key: number) {
  return { key, note: Midi.midiToNoteName(key, { sharps: true }) }
}

function toneName({ key, ratio, lamps }: ChordTone) {
  return { key, ratio, lamps }
}

function figures(hz: number | undefined, realHz: number | undefined, cents: number | undefined) {
  return { hz: six(hz), realHz: six(realHz), cents: six(cents) }
}

function six(value: number | undefined): number | undefined {
  return value === undefined ? undefined : rounded(value, 6, 'figure')
}
