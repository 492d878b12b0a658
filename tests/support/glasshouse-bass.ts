import type { Beats, Channel, Key } from '../../src/domain/units.ts'
import type { TakeSheet } from './take-sheet.ts'

/** Open strings, channel by channel from 1. */
const OPEN: readonly Key[] = [28, 33, 38, 43]
const ROOTS: readonly Key[] = [38, 33, 36, 31, 41, 29, 38, 43, 36, 40]

/** The bass's share, as a converter sends it: a channel a string, a guess an octave off now and then, a ghost, a little drift of pitch. */
export function playBass(sheet: TakeSheet): void {
  OPEN.forEach((_, string) => sheet.bendRange(string + 1, 12))
  let count = 0
  for (let bar = 4; bar < 27; bar++) {
    // Silence, so that the lamps it claims go back; then an upbeat that takes them again under a chord.
    if (bar === 12) continue
    if (bar === 13) {
      pluck(sheet, 55, 1, 33)
      continue
    }
    const root = ROOTS[bar % ROOTS.length] ?? 36
    const figure = [root, root + [7, 12, 5][sheet.draw(0, 2)]!, root + 2, root + [3, 7][sheet.draw(0, 1)]!]
    figure.forEach((key, index) => {
      count++
      const beat = 4 * bar + index
      const length = index === 3 ? 0.7 : sheet.draw(0, 3) === 0 ? 0.5 : 1
      if (count % 7 === 0) octaveSlip(sheet, beat, length, key)
      else pluck(sheet, beat, length, key)
    })
    if (bar % 5 === 0) ghost(sheet, 4 * bar + 3.8)
  }
  // Late enough for the last chord to have had its fourth lamp back.
  pluck(sheet, 109, 2, 38)
}

/** The string whose open note is nearest below. */
function stringOf(key: Key): Channel {
  return Math.max(1, OPEN.filter((open) => open <= key).length)
}

function pluck(sheet: TakeSheet, beat: Beats, length: Beats, key: Key): void {
  const string = stringOf(key)
  sheet.on(string, beat, key, sheet.draw(60, 110))
  drift(sheet, string, beat)
  sheet.off(string, beat + length, key)
}

/** The first guess is an octave up; 28 ms on the converter thinks again. */
function octaveSlip(sheet: TakeSheet, beat: Beats, length: Beats, key: Key): void {
  const string = stringOf(key)
  const velocity = sheet.draw(60, 110)
  sheet.on(string, beat, key + 12, velocity)
  sheet.off(string, beat, key + 12, 28)
  sheet.on(string, beat, key, velocity, 28)
  sheet.off(string, beat + length, key)
}

/** A plucked string starts a few cents sharp and settles. */
function drift(sheet: TakeSheet, string: Channel, beat: Beats): void {
  for (let step = 0; step <= 4; step++) sheet.bend(string, beat, 8192 + 16 * (4 - step), 10 + 20 * step)
}

/** Too short to be a note: a finger on the wood. */
function ghost(sheet: TakeSheet, beat: Beats): void {
  sheet.on(4, beat, 50, 30)
  sheet.off(4, beat, 50, 9)
}
