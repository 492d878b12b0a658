import { Midi } from 'tonal'
import { keySpans } from '../check/key-spans.ts'
import { figure, lampsNamed, listed } from '../check/listed.ts'
import type { Chord, ChordInterval, ChordRefusal, ChordTone } from '../chord.ts'
import { signed, textTable } from './text-table.ts'

const TONES = [
  { head: 'note', isText: true },
  { head: 'key' },
  { head: 'Hz wanted' },
  { head: 'octaves' },
  { head: 'Hz made' },
  { head: 'cents' },
  { head: 'lamps', isText: true },
] as const
const INTERVALS = [
  { head: 'from', isText: true },
  { head: 'to', isText: true },
  { head: 'ratio' },
  { head: 'cents wanted' },
  { head: 'cents made' },
  { head: 'error' },
  { head: 'of it trims' },
  { head: 'partials', isText: true },
  { head: 'beats wanted' },
  { head: 'beats made' },
] as const
const BEATS = [
  { head: 'one pitch', isText: true },
  { head: 'and', isText: true },
  { head: 'beats a second' },
] as const
const MOST_LAMPS = 3

/** The tones of a chord, its intervals, and what beats, line by line. */
export function chordText(chord: Chord): string[] {
  const { tones, intervals, beats, refused, sounds } = chord
  const name = namer(tones)
  return [
    ...(tones.length === 0 ? ['none of these keys sounds'] : textTable(TONES, tones.map(toneCells))),
    ...refused.map(refusalText),
    ...(intervals.length === 0
      ? []
      : [
          '',
          sounds === 'in-turn'
            ? 'intervals of what sounds; the strategy has one voice, so between keys these are of notes that follow each other'
            : 'intervals of what sounds, octaves moved and all',
          ...textTable(
            INTERVALS,
            intervals.map((one) => intervalCells(one, name)),
          ),
          'partials 3:2 beat |2 x upper - 3 x lower| times a second; a partial n is missing where n x duty is whole, and with it its beats',
        ]),
    ...(beats.length === 0
      ? []
      : [
          '',
          'lamps that are to sound one pitch',
          ...textTable(
            BEATS,
            beats.map(({ one, other, hz }) => [name(one), name(other), hz.toFixed(4)]),
          ),
        ]),
  ]
}

function toneCells({ key, ratio, lamps, wantedHz, octaves, realHz, cents }: ChordTone): string[] {
  return [
    ratio === 1 ? noteName(key) : `${noteName(key)} x ${figure(ratio, 6)}`,
    String(key),
    wantedHz.toFixed(4),
    signed(octaves, 0),
    realHz.toFixed(4),
    signed(cents, 4),
    listed(lamps, Infinity),
  ]
}

function intervalCells(
  { lower, upper, wantedRatio, wantedCents, madeCents, errorCents, trimCents, partials }: ChordInterval,
  name: (tone: ChordTone) => string,
): string[] {
  return [
    name(lower),
    name(upper),
    wantedRatio.toFixed(6),
    wantedCents.toFixed(4),
    madeCents.toFixed(4),
    signed(errorCents, 4),
    signed(trimCents, 4),
    ...(partials
      ? [partials.ratio.join(':'), partials.wantedBeats.toFixed(3), partials.beats.toFixed(3)]
      : ['none near', '', '']),
  ]
}

/** A key by its note; with its lamps where there are several tones of it. */
function namer(tones: readonly ChordTone[]): (tone: ChordTone) => string {
  const counts = new Map<number, number>()
  for (const { key } of tones) counts.set(key, (counts.get(key) ?? 0) + 1)
  return ({ key, lamps }) =>
    (counts.get(key) ?? 0) > 1 ? `${noteName(key)} on ${listed(lamps, MOST_LAMPS)}` : noteName(key)
}

function refusalText({ key, lamps, why }: ChordRefusal): string {
  const where = `${keySpans([key])} on ${lampsNamed(lamps, Infinity)}`
  switch (why) {
    case 'unmapped':
      return `the tuning has no pitch for ${where}`
    case 'range':
      return `dark, since no octave of it is within what lamp and output can do: ${where}`
    case 'not-taken':
      return `not one of the keys that light it: ${where}`
  }
}

function noteName(key: number): string {
  return Midi.midiToNoteName(key, { sharps: true })
}
