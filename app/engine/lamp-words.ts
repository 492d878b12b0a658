import { Midi } from 'tonal'
import type { LampState } from '../../src/domain/lamp-state.ts'
import type { Key } from '../../src/domain/units.ts'

/** What a lamp does and for whom: "on, part lead, E4, 329.628 Hz (-0.01 cent), duty 0.30". */
export function lampWords(state: LampState): string {
  if (!state.on) return 'dark'
  const { part, key, realHz, cents, duty, glow } = state
  if (glow) return `glows: kept lit, no note, ${realHz.toFixed(3)} Hz, duty ${duty.toFixed(2)}`
  const off = cents.toFixed(2).replace(/^-(?=0\.00$)/u, '')
  const whose = part === '' ? 'to be found' : `part ${part}`
  return `on, ${whose}, ${pitchName(key)}, ${realHz.toFixed(3)} Hz (${cents > 0 ? '+' : ''}${off} cent), duty ${duty.toFixed(2)}`
}

/** What a lamp box is told of a lamp: "Fern 329.6 Hz duty 0.30". */
export function settingWords(name: string, state: LampState): string {
  if (!state.on) return `${name} dark`
  return `${name} ${state.glow ? 'glows, ' : ''}${state.realHz.toFixed(1)} Hz duty ${state.duty.toFixed(2)}`
}

/** Transposed keys may lie beyond those that have names. */
function pitchName(key: Key): string {
  return Number.isInteger(key) && key >= 0 && key <= 127 ? Midi.midiToNoteName(key) : `key ${key}`
}
