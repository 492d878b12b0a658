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
  /** All is made dark, every note has ended: claims are given back at once, but those that are for always. */
  | { readonly kind: 'dark-all' }
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
  /** When an idle claim is given back; null while it is not going to be. */
  readonly releaseAt: Micros | null
}

const NOBODY = -1

export interface ClaimsState {
  readonly parts: readonly PartClaim[]
  /** The parts that may have to give lamps back by themselves. */
  readonly givers: readonly PartIndex[]
  /** The parts whose claims are active, in the order they came. */
  readonly active: readonly PartIndex[]
  /** Per lamp: the part whose claim holds it; the same list until a claim comes or goes. */
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
 * Which part has which lamp. A lamp lit by one part is not another's, unless the other has a claim: an active claim takes its lamps, at once; of two claims the
 * one with more priority has the lamp, of equals the one that was there first. A part hears of what it lost and of what is its to use again.
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
        releaseAt: null,
      })),
      givers: parts.flatMap(({ claim }, index) => (claim?.when === 'playing' ? [index] : [])),
      active: [],
      holder: nobody,
      owner: nobody,
      note: nobody,
      sharers: listed.map((indexes) => (indexes.length > 1 ? indexes : [])),
    }
    return settle(started, lasting(started), NOBODY, [])
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
    case 'dark-all': {
      const parts = state.parts.map((part) => ({ ...part, sounding: 0, releaseAt: null }))
      return settle({ ...state, parts }, lasting(state), NOBODY, out)
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
  const isActive = state.active.includes(index)
  const isOver = sounding === 0 && claim.when === 'playing' && isActive
  const releaseAt = isOver ? now + msToMicros(claim.releaseMs) : null
  const next = { ...state, parts: state.parts.with(index, { ...part, sounding, releaseAt }) }
  if (sounding > 0 && !isActive) return settle(next, [...state.active, index], index, out)
  return isOver ? giveBackDue(next, now, out) : next
}

function soundingAfter(sounding: number, event: PartEvent): number {
  if (event.kind === 'note-on') return sounding + 1
  if (event.kind === 'note-off') return Math.max(0, sounding - 1)
  return event.kind === 'all-off' ? 0 : sounding
}

/** The claims that hold without anybody playing. */
function lasting({ parts }: ClaimsState): PartIndex[] {
  return parts.flatMap(({ claim }, index) => (claim?.when === 'always' ? [index] : []))
}

function giveBackDue(state: ClaimsState, now: Micros, out: ClaimsOut[]): ClaimsState {
  const isDue = (index: PartIndex): boolean => (state.parts[index]?.releaseAt ?? Infinity) <= now
  if (!state.givers.some(isDue)) return state
  const active = state.active.filter((index) => !isDue(index))
  const parts = state.parts.map((part, index) => (isDue(index) ? { ...part, releaseAt: null } : part))
  return settle({ ...state, parts }, active, NOBODY, out)
}

/**
 * These claims are active from now on. A lamp goes to the one of them that has it, and what another part sounds there ends; without one, what sounds goes on until
 * its strategy ends it. `taker`: the part whose note it is that takes lamps, and which needs no word of them.
 */
function settle(
  state: ClaimsState,
  active: readonly PartIndex[],
  taker: PartIndex,
  out: ClaimsOut[],
): ClaimsState {
  const holder = holders(state, active)
  const owner = state.owner.slice()
  const note = state.note.slice()
  const next = { ...state, active, holder, owner, note }
  const orders: Order[] = []
  const lost: ClaimsOut[] = []
  const changed: LampIndex[] = []
  holder.forEach((after, lamp) => {
    if (after === state.holder[lamp]) return
    const lit = owner[lamp] ?? NOBODY
    if (lit !== NOBODY) {
      if (after === NOBODY || after === lit) return
      owner[lamp] = NOBODY
      note[lamp] = NOBODY
      orders.push({ kind: 'dark', lamp })
      lost.push({ kind: 'lost', part: lit, lamp })
    }
    changed.push(lamp)
  })
  if (orders.length > 0) out.push({ kind: 'orders', orders })
  out.push(...lost)
  for (const lamp of changed) {
    const before = state.holder[lamp] ?? NOBODY
    if (holder[lamp] !== taker || taker === NOBODY) offer(next, lamp, before, out)
  }
  return next
}

/** Per lamp: which of these claims has it. */
function holders({ parts, holder }: ClaimsState, active: readonly PartIndex[]): PartIndex[] {
  const held = holder.map(() => NOBODY)
  for (const index of active) {
    const part = parts[index]
    for (const lamp of part?.lamps ?? []) {
      const other = parts[held[lamp] ?? NOBODY]
      if (!other || priorityOf(part) > priorityOf(other)) held[lamp] = index
    }
  }
  return held
}

function priorityOf(part: PartClaim | undefined): number {
  return part?.claim?.priority ?? 0
}

function nextRelease(state: ClaimsState): Micros | undefined {
  let first = Infinity
  for (const index of state.givers) first = Math.min(first, state.parts[index]?.releaseAt ?? Infinity)
  return first === Infinity ? undefined : first
}
