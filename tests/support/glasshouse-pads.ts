import type { Beats, Key, Velocity } from '../../src/domain/units.ts'
import type { TakeSheet } from './take-sheet.ts'

const CHANNEL = 10
const DEEP = 36
const DRY = 38
const TICK = 42
const RING = 46

/** The pads' share, hits that end at once: five quavers against four, flams, and what a stand of pads sends by mistake. */
export function playPads(sheet: TakeSheet): void {
  for (let beat = 8; beat < 104; beat += 2.5) hit(sheet, beat, DEEP, sheet.draw(80, 112))
  for (let beat = 16; beat < 102; beat += 1) hit(sheet, beat + 0.25, TICK, sheet.draw(45, 80))
  for (let beat = 10; beat < 102; beat += 4) {
    if (beat % 16 === 14) flam(sheet, beat)
    else hit(sheet, beat, DRY, sheet.draw(76, 100))
  }
  for (let beat = 31.75; beat < 104; beat += 16) hit(sheet, beat, RING, sheet.draw(90, 118))
  for (const beat of [13, 33, 53, 73, 93]) bounce(sheet, beat)
  for (const beat of [18, 58, 98]) shake(sheet, beat)
  hit(sheet, 40.6, RING, 5)
}

function hit(sheet: TakeSheet, beat: Beats, key: Key, velocity: Velocity, ms = 0): void {
  sheet.on(CHANNEL, beat, key, velocity, ms)
  sheet.off(CHANNEL, beat, key, ms)
}

/** A soft stroke 28 ms before the loud one: both are meant. */
function flam(sheet: TakeSheet, beat: Beats): void {
  hit(sheet, beat, DRY, 44, -28)
  hit(sheet, beat, DRY, 108)
}

/** The same pad again after 6 ms: the stick bounced. */
function bounce(sheet: TakeSheet, beat: Beats): void {
  hit(sheet, beat, DEEP, 36, 6)
}

/** Another pad, far softer, 2 ms after a hit: the stand shook. */
function shake(sheet: TakeSheet, beat: Beats): void {
  hit(sheet, beat, RING, 14, 2)
}
