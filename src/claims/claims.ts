import type { LampIndex, NoteId, PartIndex } from '../domain/ids.ts'
import type { Voice } from '../domain/intent.ts'
import type { Order } from '../domain/order.ts'
import type { PartEvent, RefusalReason } from '../domain/part-event.ts'
import type { Claim } from '../domain/song.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import { msToMicros } from '../time/beats.ts'

export interface ClaimsConfig {
  /** How many lamps the rig has. */
  readonly lamps: number
  readonly parts: readonly { readonly lamps: readonly LampIndex[]; readonly claim?: Claim | undefined }[]
}

/** An intent, its lamp counted in the rig. */
export type LampIntent =
  | { readonly kind: 'light'; readonly lamp: LampIndex; readonly voice: Voice; readonly strike: boolean }
  | { readonly kind: 'dark'; readonly lamp: LampIndex }

export type ClaimsIn =
  /** What a part's strategy wants, all of one step. */
  | { readonly kind: 'intents'; readonly part: PartIndex; readonly intents: readonly LampIntent[] }
  /** What the part's player did: claims go by it. */
  | { readonly kind: 'played'; readonly part: PartIndex; readonly event: PartEvent }
  /** Further down, the lamp could not do it: it is dark. */
  | {
      readonly kind: 'refused'
      readonly lamp: LampIndex
      readonly part: PartIndex
      readonly note: NoteId
      readonly reason: RefusalReason
    }
  /** The part's strategy failed: all its lamps go dark. */
  | { readonly kind: 'failed'; readonly part: PartIndex }
  | Wake

export type ClaimsOut =
  | { readonly kind: 'orders'; readonly orders: readonly Order[] }
  | {
      readonly kind: 'refused'
      readonly part: PartIndex
      readonly lamp: LampIndex
      readonly note: NoteId
      readonly reason: RefusalReason
    }
  | { readonly kind: 'lost' | 'gained'; readonly part: PartIndex; readonly lamp: LampIndex }

interface PartClaim {
  readonly lamps: readonly LampIndex[]
  readonly claim: Claim | null
  readonly sounding: number
  readonly active: boolean
  /** When an idle claim is given back; null while it is not going to be. */
  readonly releaseAt: Micros | null
}

const NOBODY = -1

export interface ClaimsState {
  readonly parts: readonly PartClaim[]
  /** The parts that may have to give lamps back by themselves. */
  readonly givers: readonly PartIndex[]
  /** Per lamp: the part whose claim holds it. */
  readonly holder: readonly PartIndex[]
  /** Per lamp: the part that lights it, and with which note. */
  readonly owner: readonly PartIndex[]
  readonly note: readonly NoteId[]
  /** Per lamp: the parts that list it, where more than one does. */
  readonly sharers: readonly (readonly PartIndex[])[]
}

/** Whether a part may light a lamp now. */
export function mayUse(state: ClaimsState, part: PartIndex, lamp: LampIndex): boolean {
  const holder = state.holder[lamp]
  if (holder !== NOBODY) return holder === part
  const owner = state.owner[lamp]
  return owner === NOBODY || owner === part
}

/**
 * Which part has which lamp. A lamp lit by one part is not another's, unless the other has a claim: an active claim takes its lamps, at once, and
 * of two claims the one that was there first keeps the lamp. A part hears of what it lost and of what is its to use again.
 */
export const claims: Stage<ClaimsConfig, ClaimsState, ClaimsIn, ClaimsOut> = {
  name: 'claims',
  start({ lamps, parts }) {
    const listed = Array.from({ length: lamps }, (): PartIndex[] => [])
    parts.forEach((part, index) => part.lamps.forEach((lamp) => listed[lamp]?.push(index)))
    const nobody = Array.from({ length: lamps }, () => NOBODY)
    const started: ClaimsState = {
      parts: parts.map((part) => ({
        lamps: part.lamps,
        claim: part.claim ?? null,
        sounding: 0,
        active: false,
        releaseAt: null,
      })),
      givers: parts.flatMap(({ claim }, index) => (claim?.when === 'playing' ? [index] : [])),
      holder: nobody,
      owner: nobody,
      note: nobody,
      sharers: listed.map((indexes) => (indexes.length > 1 ? indexes : [])),
    }
    return parts.reduce(
      (state, part, index) => (part.claim?.when === 'always' ? take(state, index, []) : state),
      started,
    )
  },
  step(state, event, now): Step<ClaimsState, ClaimsOut> {
    const out: ClaimsOut[] = []
    const next = happen(giveBackDue(state, now, out), event, now, out)
    return { state: next, out, wake: nextRelease(next) }
  },
}

function happen(state: ClaimsState, event: ClaimsIn, now: Micros, out: ClaimsOut[]): ClaimsState {
  switch (event.kind) {
    case 'intents':
      return carryOut(state, event.part, event.intents, out)
    case 'played':
      return state.parts[event.part]?.claim ? follow(state, event.part, event.event, now, out) : state
    case 'refused':
      return refuse(state, event, out)
    case 'failed': {
      const lit = (state.parts[event.part]?.lamps ?? []).filter((lamp) => state.owner[lamp] === event.part)
      return carryOut(
        state,
        event.part,
        lit.map((lamp) => ({ kind: 'dark', lamp })),
        out,
      )
    }
    case 'wake':
      return state
  }
}

function carryOut(
  state: ClaimsState,
  part: PartIndex,
  intents: readonly LampIntent[],
  out: ClaimsOut[],
): ClaimsState {
  const orders: Order[] = []
  const after: ClaimsOut[] = []
  let freed: Set<LampIndex> | undefined
  const owner = state.owner.slice()
  const note = state.note.slice()
  const next = { ...state, owner, note }
  for (const intent of intents) {
    const { lamp } = intent
    if (intent.kind === 'light') {
      const { voice, strike } = intent
      if (mayUse(next, part, lamp)) {
        owner[lamp] = part
        note[lamp] = voice.note
        freed?.delete(lamp)
        orders.push({ kind: 'light', lamp, part, voice, strike })
      } else after.push({ kind: 'refused', part, lamp, note: voice.note, reason: 'claimed' })
    } else if (owner[lamp] === part) {
      owner[lamp] = NOBODY
      note[lamp] = NOBODY
      freed = (freed ?? new Set()).add(lamp)
      orders.push({ kind: 'dark', lamp })
    }
  }
  for (const lamp of freed ?? []) offer(next, lamp, part, after)
  if (orders.length > 0) out.push({ kind: 'orders', orders })
  out.push(...after)
  return next
}

/** A lamp that nobody sounds or claims is the other parts' to use. */
function offer(state: ClaimsState, lamp: LampIndex, from: PartIndex, out: ClaimsOut[]): void {
  for (const part of state.sharers[lamp] ?? []) {
    if (part !== from && mayUse(state, part, lamp)) out.push({ kind: 'gained', part, lamp })
  }
}

function refuse(state: ClaimsState, event: ClaimsIn & { kind: 'refused' }, out: ClaimsOut[]): ClaimsState {
  const { lamp, part, note, reason } = event
  // The lamp may have gone to another note meanwhile; that one is not what was refused.
  if (state.owner[lamp] !== part || state.note[lamp] !== note) return state
  const next = { ...state, owner: state.owner.with(lamp, NOBODY), note: state.note.with(lamp, NOBODY) }
  out.push(
    { kind: 'orders', orders: [{ kind: 'dark', lamp }] },
    { kind: 'refused', part, lamp, note, reason },
  )
  offer(next, lamp, part, out)
  return next
}

function follow(
  state: ClaimsState,
  index: PartIndex,
  event: PartEvent,
  now: Micros,
  out: ClaimsOut[],
): ClaimsState {
  const part = state.parts[index]
  const claim = part?.claim
  if (!part || !claim || claim.when === 'always') return state
  const sounding = soundingAfter(part.sounding, event)
  if (sounding === part.sounding) return state
  const over = sounding === 0 && claim.when === 'playing' && part.active
  const changed = {
    ...part,
    sounding,
    releaseAt: over ? now + msToMicros(claim.releaseMs) : null,
  }
  const next = { ...state, parts: state.parts.with(index, changed) }
  if (sounding > 0 && !part.active) return take(next, index, out)
  return over ? giveBackDue(next, now, out) : next
}

function soundingAfter(sounding: number, event: PartEvent): number {
  if (event.kind === 'note-on') return sounding + 1
  if (event.kind === 'note-off') return Math.max(0, sounding - 1)
  return event.kind === 'all-off' ? 0 : sounding
}

/** The claim becomes active: every lamp of the part that no other claim holds is its own, and what sounds there ends. */
function take(state: ClaimsState, index: PartIndex, out: ClaimsOut[]): ClaimsState {
  const part = state.parts[index]
  if (!part) return state
  const holder = state.holder.slice()
  const owner = state.owner.slice()
  const note = state.note.slice()
  const orders: Order[] = []
  const told: ClaimsOut[] = []
  for (const lamp of part.lamps) {
    if (holder[lamp] !== NOBODY) continue
    holder[lamp] = index
    const before = owner[lamp] ?? NOBODY
    if (before === NOBODY || before === index) continue
    owner[lamp] = NOBODY
    note[lamp] = NOBODY
    orders.push({ kind: 'dark', lamp })
    told.push({ kind: 'lost', part: before, lamp })
  }
  if (orders.length > 0) out.push({ kind: 'orders', orders })
  out.push(...told)
  return {
    ...state,
    holder,
    owner,
    note,
    parts: state.parts.with(index, { ...part, active: true, releaseAt: null }),
  }
}

function giveBackDue(state: ClaimsState, now: Micros, out: ClaimsOut[]): ClaimsState {
  let next = state
  for (const index of state.givers) {
    const releaseAt = state.parts[index]?.releaseAt ?? null
    if (releaseAt !== null && releaseAt <= now) next = giveBack(next, index, out)
  }
  return next
}

function giveBack(state: ClaimsState, index: PartIndex, out: ClaimsOut[]): ClaimsState {
  const part = state.parts[index]
  if (!part) return state
  const holder = state.holder.slice()
  const parts = state.parts.with(index, { ...part, active: false, releaseAt: null })
  const owner = state.owner.slice()
  const note = state.note.slice()
  const freed = part.lamps.filter((lamp) => holder[lamp] === index)
  const orders: Order[] = []
  const told: ClaimsOut[] = []
  const next = { ...state, holder, owner, note, parts }
  for (const lamp of freed) {
    holder[lamp] = heir(parts, lamp)
    if (owner[lamp] === index) {
      // Without an heir, what still sounds may go on: it ends when its strategy says so.
      if (holder[lamp] === NOBODY) continue
      owner[lamp] = NOBODY
      note[lamp] = NOBODY
      orders.push({ kind: 'dark', lamp })
      told.push({ kind: 'lost', part: index, lamp })
    }
    offer(next, lamp, index, told)
  }
  if (orders.length > 0) out.push({ kind: 'orders', orders })
  out.push(...told)
  return next
}

/** Another part whose claim waits for the lamp, the first in the song's order. */
function heir(parts: readonly PartClaim[], lamp: LampIndex): PartIndex {
  return parts.findIndex((part) => part.active && part.lamps.includes(lamp))
}

function nextRelease(state: ClaimsState): Micros | undefined {
  let first = Infinity
  for (const index of state.givers) first = Math.min(first, state.parts[index]?.releaseAt ?? Infinity)
  return first === Infinity ? undefined : first
}
