import type { LampChange } from '../domain/lamp-state.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { Micros } from '../domain/units.ts'
import { rounded } from '../domain/rounded.ts'

/**
 * One line of `lamps.jsonl`, without its line end: what a lamp does from `at` on. `t` in seconds, to the microsecond;
 * `note` the key; `hz` what was asked and `realHz` what the output does, to 6 places; `cents` between them, to 4;
 * `duty` to 6; `flash` the number of a pulse's flash, counted from beat 0, a line for each since each is told to the lamp and moves its phase. RangeError for a number that JSON cannot hold.
 */
export function lampLine(change: LampChange, at: Micros): string {
  const { lamp, state } = change
  const t = rounded(at / MICROS_PER_SECOND, 6, `${lamp}: t`)
  if (!state.on) return JSON.stringify({ t, lamp, on: false })
  return JSON.stringify({
    t,
    lamp,
    on: true,
    part: state.part,
    player: state.player,
    note: state.key,
    hz: rounded(state.hz, 6, `${lamp}: hz`),
    realHz: rounded(state.realHz, 6, `${lamp}: realHz`),
    cents: rounded(state.cents, 4, `${lamp}: cents`),
    duty: rounded(state.duty, 6, `${lamp}: duty`),
    ...(state.flash === undefined ? {} : { flash: state.flash }),
  })
}
