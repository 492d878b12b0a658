import type { KeysPlayer, PadsPlayer, StringsPlayer } from '../../src/domain/player.ts'
import { keys } from '../../src/players/keys.ts'
import { pads } from '../../src/players/pads.ts'
import { strings } from '../../src/players/strings.ts'
import { StageRun } from './stage-run.ts'

export function keysPlayer(more: Partial<KeysPlayer> = {}): KeysPlayer {
  const input = { port: 'Keybed', channels: [1, 2] }
  return { id: 'keys', name: 'Keys', kind: 'keys', input, bendRange: 2, ...more }
}

export function padsPlayer(more: Partial<PadsPlayer> = {}): PadsPlayer {
  const input = { port: 'Pads', channels: [1, 10] }
  const rest = { floor: 8, maskMs: 12, crosstalkMs: 5, gateMs: 120, curve: 'linear', pads: [] } as const
  return { id: 'pads', name: 'Pads', kind: 'pads', input, ...rest, ...more }
}

/** Four strings, a channel each. */
export function stringsPlayer(more: Partial<StringsPlayer> = {}): StringsPlayer {
  const input = { port: 'Bass', channels: [1, 2, 3, 4] }
  const rest = { minNoteMs: 20, octaveGuardMs: 40, bendSmoothMs: 0, legato: true, bendRange: 12 }
  return { id: 'bass', name: 'Bass', kind: 'strings', input, ...rest, ...more }
}

export function playKeys(more: Partial<KeysPlayer> = {}) {
  return new StageRun(keys, keysPlayer(more))
}

export function playPads(more: Partial<PadsPlayer> = {}) {
  return new StageRun(pads, padsPlayer(more))
}

export function playStrings(more: Partial<StringsPlayer> = {}) {
  return new StageRun(strings, stringsPlayer(more))
}
