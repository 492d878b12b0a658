import type { Beats, Key } from '../../src/domain/units.ts'
import type { TakeSheet } from './take-sheet.ts'

/** The notes a line may take, from the lowest to the highest; our own choice. */
const STEPS: readonly Key[] = [57, 60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 79]
const CHORDS: readonly (readonly Key[])[] = [
  [50, 57, 62, 65],
  [48, 55, 64, 67],
  [53, 57, 60, 69],
  [45, 57, 64, 71],
  [52, 59, 62, 67],
  [50, 60, 65, 69],
]
const CHANNEL = 1
const SUSTAIN = 64
const SOSTENUTO = 66
const SWEEP = 74

/** The keyboard's share: a pedal note under a legato line, chords on the pedal, a bend, a sweep, and the line again, faster. */
export function playKeys(sheet: TakeSheet): void {
  sheet.bendRange(CHANNEL, 2)
  pedalNote(sheet, 0, 15.9, 50)
  line(sheet, 1, 16, [0.5, 1, 1.5])
  pedalNote(sheet, 16, 15.9, 48)
  line(sheet, 17, 32, [0.5, 1])
  CHORDS.forEach((chord, index) => pedalledChord(sheet, 32 + 4 * index, chord))
  sweep(sheet, 56, 72)
  bentNote(sheet, 56, 67)
  bentNote(sheet, 60, 72)
  caughtNote(sheet, 64, 45)
  pedalNote(sheet, 72, 15.9, 43)
  line(sheet, 72.5, 88, [0.25, 0.5])
  pedalNote(sheet, 88, 15.9, 50)
  line(sheet, 88.5, 103, [0.25, 0.5, 0.5, 1])
  lastChord(sheet, 104)
}

function pedalNote(sheet: TakeSheet, beat: Beats, length: Beats, key: Key): void {
  sheet.note(CHANNEL, beat, length, key, 78)
}

/** A walk over the steps; each note is let go a little after the next is struck. */
function line(sheet: TakeSheet, from: Beats, to: Beats, lengths: readonly Beats[]): void {
  let place = sheet.draw(4, 8)
  for (let beat = from; beat < to;) {
    const length = Math.min(lengths[sheet.draw(0, lengths.length - 1)] ?? 1, to - beat)
    const overlap = beat + length < to ? 0.06 : -0.1
    sheet.note(CHANNEL, beat, length + overlap, STEPS[place] ?? 60, sheet.draw(58, 104))
    const stride = sheet.draw(1, 2) * (sheet.draw(0, STEPS.length - 1) < place ? -1 : 1)
    // At the ends of the steps the walk turns back.
    place += STEPS[place + stride] === undefined ? -stride : stride
    beat += length
  }
}

/** Struck, caught on the sustain pedal, let go, and one more note above while the pedal holds the rest. */
function pedalledChord(sheet: TakeSheet, beat: Beats, chord: readonly Key[]): void {
  chord.forEach((key, index) => sheet.note(CHANNEL, beat + index * 0.03, 2.5, key, 70 + 4 * index))
  sheet.control(CHANNEL, beat + 0.25, SUSTAIN, 127)
  sheet.note(CHANNEL, beat + 3, 0.8, 74 + sheet.draw(0, 3), 90)
  sheet.control(CHANNEL, beat + 3.9, SUSTAIN, 0)
}

/** Up a whole tone and back, by a wheel that goes all its way. */
function bentNote(sheet: TakeSheet, beat: Beats, key: Key): void {
  sheet.note(CHANNEL, beat, 3.75, key, 96)
  for (let step = 0; step <= 32; step++) {
    const share = Math.sin((Math.PI * step) / 32)
    sheet.bend(CHANNEL, beat + 0.75 + step / 16, Math.min(16383, Math.round(8192 + 8192 * share)))
  }
}

function sweep(sheet: TakeSheet, from: Beats, to: Beats): void {
  const steps = Math.round((to - from) * 8)
  for (let step = 0; step <= steps; step++) {
    const value = Math.round(63.5 - 63.5 * Math.cos((2 * Math.PI * step) / steps))
    sheet.control(CHANNEL, from + step / 8, SWEEP, value)
  }
}

/** A low note on the sostenuto pedal under short ones that it does not hold. */
function caughtNote(sheet: TakeSheet, beat: Beats, key: Key): void {
  sheet.note(CHANNEL, beat, 0.5, key, 84)
  sheet.control(CHANNEL, beat + 0.25, SOSTENUTO, 127)
  for (let step = 0; step < 12; step++) {
    sheet.note(CHANNEL, beat + 1 + step / 2, 0.2, STEPS[(5 * step) % STEPS.length] ?? 60, sheet.draw(50, 90))
  }
  sheet.control(CHANNEL, beat + 7.5, SOSTENUTO, 0)
}

function lastChord(sheet: TakeSheet, beat: Beats): void {
  for (const key of [50, 57, 65, 72]) sheet.note(CHANNEL, beat, 6, key, 88)
  for (let step = 0; step <= 40; step++) sheet.control(CHANNEL, beat + step / 8, SWEEP, 80 - 2 * step)
}
