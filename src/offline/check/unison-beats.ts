import type { Hz, Key } from '../../domain/units.ts'
import type { CheckFinding } from './finding.ts'
import { grouped } from './grouped.ts'
import { keyName } from './key-spans.ts'
import { counted, figure, lampsNamed } from './listed.ts'
import { soundsPitch } from './sounds-pitch.ts'
import type { Survey, SurveyedLamp, SurveyedPart } from './survey.ts'

/** From here two lamps of one voice are heard to beat (common practice, no source). */
export const BEAT_HZ: Hz = 0.5

interface Beat {
  readonly key: Key
  readonly low: { readonly lamp: SurveyedLamp; readonly hz: Hz }
  readonly high: { readonly lamp: SurveyedLamp; readonly hz: Hz }
}

/** Lamps of a unison that are to sound one pitch and do not quite, since their outputs or their trims differ. */
export function unisonBeatFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ parts }) =>
    parts.flatMap((surveyed) =>
      surveyed.part.strategy.kind === 'unison' && soundsPitch(surveyed.part) ? partFindings(surveyed) : [],
    ),
  )
}

function partFindings({ part, place, lamps }: SurveyedPart): CheckFinding[] {
  const [from, to] = part.notes
  const keys = Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index)
  // A detune is meant to beat: only lamps that share one are to agree.
  return [...grouped(lamps, ({ detune }) => detune).values()].flatMap((all) => {
    // Lamps that share a table agree, so one of them speaks for all.
    const group = [...grouped(all, ({ figures }) => figures.table).values()].flatMap(([first]) => first ?? [])
    if (group.length < 2) return []
    const beats = keys.flatMap((key) => beatOf(group, key, part.transpose) ?? [])
    const heard = beats.filter((beat) => rate(beat) > BEAT_HZ)
    const worst = heard.reduce<Beat | undefined>((a, b) => (a && rate(a) >= rate(b) ? a : b), undefined)
    if (!worst) return []
    const { key, low, high } = worst
    const [a, b] = [low.lamp.lamp, high.lamp.lamp]
    const isTrimmed = a.trimCents !== b.trimCents
    const why = isTrimmed
      ? `Their trimCents differ (${figure(a.trimCents)} and ${figure(b.trimCents)}): where that puts their boxes right they agree after all.`
      : 'Lamps on one output, or on outputs of one kind, agree.'
    const message =
      `${lampsNamed([a.id, b.id])} are to sound one pitch and beat: up to ${figure(rate(worst), 3)} times a second, at key ${keyName(key)} (${figure(low.hz, 6)} and ${figure(high.hz, 6)} Hz), ` +
      `and over ${BEAT_HZ} on ${counted(heard.length, 'key')}. It is heard as a swell, and the light of the two may be seen to come and go as slowly (common practice, no source). ${why}`
    return [{ gravity: isTrimmed ? 'note' : 'warning', ...place, message }]
  })
}

/** The lamps farthest apart at a key; lamps that octaves move elsewhere are not to agree. */
function beatOf(group: readonly SurveyedLamp[], key: Key, transpose: number): Beat | undefined {
  const sounding = group.flatMap((lamp) => {
    const pitch = lamp.figures.table.pitch(key + transpose)
    return typeof pitch === 'string' ? [] : [{ lamp, hz: pitch.realHz, octaves: pitch.octaves }]
  })
  const beats = [...grouped(sounding, ({ octaves }) => octaves).values()].flatMap((same): Beat[] => {
    const [low, high] = [extreme(same, -1), extreme(same, 1)]
    return low && high ? [{ key, low, high }] : []
  })
  return beats.reduce<Beat | undefined>((a, b) => (a && rate(a) >= rate(b) ? a : b), undefined)
}

function extreme<T extends { readonly hz: Hz }>(all: readonly T[], sign: 1 | -1): T | undefined {
  return all.reduce<T | undefined>((a, b) => (a && a.hz * sign >= b.hz * sign ? a : b), undefined)
}

function rate({ low, high }: Beat): Hz {
  return high.hz - low.hz
}
