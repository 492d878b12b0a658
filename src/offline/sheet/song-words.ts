import type { Song } from '../../domain/song.ts'
import type { EnterAt } from '../../domain/switching.ts'
import type { TuningSpec } from '../../domain/tuning-spec.ts'
import type { Bpm } from '../../domain/units.ts'
import { keyName } from '../check/key-spans.ts'
import { counted } from '../check/listed.ts'

/** "97.0625 beats a minute": up to four decimals. */
export function tempoWords(tempo: Bpm): string {
  return `${Number(tempo.toFixed(4))} beats a minute`
}

export function beatsWords(beats: number): string {
  return `${counted(beats, 'beat')} a bar`
}

/** "12 equal steps to the octave; A4 (69) sounds 440 Hz" */
export function tuningWords(tuning: TuningSpec): string {
  switch (tuning.kind) {
    case 'equal': {
      const period = tuning.periodCents === 1200 ? 'the octave' : `${tuning.periodCents} cents`
      return `${counted(tuning.steps, 'equal step')} to ${period}; ${keyName(tuning.refNote)} sounds ${tuning.refHz} Hz`
    }
    case 'scale':
      return `${tuning.name === '' ? `scale of ${counted(tuning.pitches.length, 'pitch')}` : tuning.name}; ${keyName(tuning.refNote)} sounds ${tuning.refHz} Hz`
    case 'received':
      return `as player ${tuning.player} sends it, tuning program ${tuning.program}; else as ${tuning.base}`
  }
}

export function enterWords(enter: Song['enter']): string {
  return enter === 'cut'
    ? 'cut: every lamp goes dark, then it begins'
    : 'carry: notes still held sound on where this song has a place for them'
}

export function whenWords(when: EnterAt): string {
  switch (when) {
    case 'now':
      return 'at once when asked for'
    case 'beat':
      return 'on the next beat of the song that plays'
    case 'bar':
      return 'on the next bar of the song that plays'
    case 'release':
      return 'when every note has ended that sounded when it was asked for'
  }
}

/** Minutes as a clock shows them, to the second: "4:30", "1:02:00". */
export function lengthWords(minutes: number): string {
  const seconds = Math.round(minutes * 60)
  const [hours, rest] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60]
  const tail = String(seconds % 60).padStart(2, '0')
  return hours === 0 ? `${rest}:${tail}` : `${hours}:${String(rest).padStart(2, '0')}:${tail}`
}
