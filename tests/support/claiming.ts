import type { ClaimsConfig, ClaimsIn, LampIntent } from '../../src/claims/claims.ts'
import { claims } from '../../src/claims/claims.ts'
import type { LampIndex, NoteId, PartIndex } from '../../src/domain/ids.ts'
import type { Voice } from '../../src/domain/intent.ts'
import type { PartEvent } from '../../src/domain/part-event.ts'
import type { Claim } from '../../src/domain/song.ts'
import { StageRun } from './stage-run.ts'

export function voice(note: NoteId, more: Partial<Voice> = {}): Voice {
  return { note, key: 60, channel: 1, velocity: 100, ratio: 1, cents: 0, ...more }
}

export function light(lamp: LampIndex, note: NoteId, strike = true): LampIntent {
  return { kind: 'light', lamp, voice: voice(note), strike }
}

export function dark(lamp: LampIndex): LampIntent {
  return { kind: 'dark', lamp }
}

export function wants(part: PartIndex, ...intents: LampIntent[]): ClaimsIn {
  return { kind: 'intents', part, intents }
}

export function played(part: PartIndex, event: PartEvent): ClaimsIn {
  return { kind: 'played', part, event }
}

/** The part's player strikes a note. */
export function strikes(part: PartIndex, id: NoteId): ClaimsIn {
  return played(part, { kind: 'note-on', note: { id, key: 60, channel: 1, velocity: 100 } })
}

export function ends(part: PartIndex, id: NoteId): ClaimsIn {
  return played(part, { kind: 'note-off', id })
}

export function claim(when: Claim['when'], releaseMs = 500, priority = 0): Claim {
  return { when, releaseMs, priority }
}

/** Parts by their lamps and claims, on a rig of four lamps. */
export function runClaims(...parts: ClaimsConfig['parts']) {
  return new StageRun(claims, { lamps: 4, parts })
}
