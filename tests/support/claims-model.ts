import fc from 'fast-check'
import type { ClaimsIn, ClaimsOut } from '../../src/claims/claims.ts'
import { claims, mayUse } from '../../src/claims/claims.ts'
import type { LampIndex, PartIndex } from '../../src/domain/ids.ts'
import type { Claim } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'
import { claim, dark, ends, light, played, strikes, wants } from './claiming.ts'
import { StageRun } from './stage-run.ts'

export const LAMPS = 4
const PARTS = 3

export interface PartPlan {
  readonly lamps: readonly LampIndex[]
  readonly claim?: Claim | undefined
}

const partPlan: fc.Arbitrary<PartPlan> = fc.record({
  lamps: fc.uniqueArray(fc.nat(LAMPS - 1), { minLength: 1 }),
  claim: fc.oneof(
    fc.constant(undefined),
    fc
      .tuple(fc.constantFrom('playing', 'playing', 'latched', 'always'), fc.constantFrom(0, 0.0001, 1, 50))
      .map(([when, releaseMs]) => claim(when as Claim['when'], releaseMs)),
  ),
})
export const anyPlans = fc.array(partPlan, { minLength: PARTS, maxLength: PARTS })

export interface Move {
  readonly after: Micros
  readonly part: PartIndex
  readonly what: string
  /** Which of the part's lamps. */
  readonly which: number
  readonly note: number
}

const MOVES = ['light', 'light', 'dark', 'swap', 'on', 'on', 'off', 'off', 'all-off', 'refused', 'failed']
export const anyMoves: fc.Arbitrary<Move[]> = fc.array(
  fc.record({
    after: fc.constantFrom(0, 0, 1, 500, 1000, 50_000),
    part: fc.nat(PARTS - 1),
    what: fc.constantFrom(...MOVES),
    which: fc.nat(LAMPS - 1),
    note: fc.integer({ min: 1, max: 3 }),
  }),
  { maxLength: 60 },
)

function lampOf({ which }: Move, { lamps }: PartPlan): LampIndex {
  return lamps[which % lamps.length] ?? 0
}

function eventOf(move: Move, plan: PartPlan): ClaimsIn {
  const { part, what, note } = move
  const lamp = lampOf(move, plan)
  switch (what) {
    case 'light':
      return wants(part, light(lamp, note))
    case 'dark':
      return wants(part, dark(lamp))
    case 'swap':
      return wants(part, dark(lamp), light(plan.lamps[0] ?? 0, note))
    case 'on':
      return strikes(part, note)
    case 'off':
      return ends(part, note)
    case 'all-off':
      return played(part, { kind: 'all-off' })
    case 'refused':
      return { kind: 'refused', part, lamp, note, reason: 'supply' }
    default:
      return { kind: 'failed', part }
  }
}

/** The rules in the plainest words: who plays, and who lights what. Nothing of how the stage keeps its books. */
class Model {
  readonly plans: readonly PartPlan[]
  readonly owner: PartIndex[] = Array.from({ length: LAMPS }, () => -1)
  readonly #sounding = Array.from({ length: PARTS }, () => 0)
  readonly #lastEnd = Array.from({ length: PARTS }, () => -Infinity)
  readonly #hasPlayed = Array.from({ length: PARTS }, () => false)

  constructor(plans: readonly PartPlan[]) {
    this.plans = plans
  }

  isClaiming(part: PartIndex, now: Micros): boolean {
    const rule = this.plans[part]?.claim
    if (!rule) return false
    if (rule.when === 'always') return true
    if (rule.when === 'latched') return this.#hasPlayed[part] === true
    const until = (this.#lastEnd[part] ?? 0) + Math.round(rule.releaseMs * 1000)
    return (this.#sounding[part] ?? 0) > 0 || now < until
  }

  claimants(lamp: LampIndex, now: Micros): PartIndex[] {
    return [...this.plans.keys()].filter(
      (part) => this.plans[part]?.lamps.includes(lamp) && this.isClaiming(part, now),
    )
  }

  hear({ part, what }: Move, now: Micros): void {
    const before = this.#sounding[part] ?? 0
    const ended = what === 'all-off' ? before : what === 'off' ? Math.min(1, before) : 0
    const after = before - ended + (what === 'on' ? 1 : 0)
    this.#sounding[part] = after
    if (after > 0) this.#hasPlayed[part] = true
    if (before > 0 && after === 0) this.#lastEnd[part] = now
  }

  /** Carries out what was ordered; says where a lamp changed hands without being dark between. */
  follow(said: readonly ClaimsOut[]): string[] {
    const faults: string[] = []
    for (const out of said) {
      if (out.kind !== 'orders') continue
      for (const order of out.orders) {
        const owner = this.owner[order.lamp] ?? -1
        if (order.kind === 'light' && owner >= 0 && owner !== order.part)
          faults.push(`lamp ${order.lamp} of part ${owner} was lit by part ${order.part}`)
        this.owner[order.lamp] = order.kind === 'light' ? order.part : -1
      }
    }
    return faults
  }
}

/** Plays the moves and says all that was against the rules. */
export function playClaims(plans: readonly PartPlan[], moves: readonly Move[], isPutDown = false) {
  const run = new StageRun(claims, { lamps: LAMPS, parts: plans }, isPutDown)
  const model = new Model(plans)
  const faults: string[] = []
  let at = 0
  const check = (isRight: boolean, what: string): void => {
    if (!isRight) faults.push(`${at}: ${what}`)
  }
  for (const move of moves) {
    at += move.after
    const { part, what } = move
    const plan = plans[part] as PartPlan
    faults.push(...model.follow(run.wakeUpTo(at).map(({ out }) => out)))
    const before = model.owner.slice()
    const said = run.at(at, eventOf(move, plan))
    model.hear(move, at)
    faults.push(...model.follow(said))
    for (const out of said) {
      if (out.kind === 'gained')
        check(
          mayUse(run.state, out.part, out.lamp),
          `part ${out.part} gained lamp ${out.lamp} but may not use it`,
        )
      if (out.kind === 'lost')
        check(before[out.lamp] === out.part, `part ${out.part} lost lamp ${out.lamp}, which it did not light`)
    }
    if (what === 'light') {
      const lamp = lampOf(move, plan)
      const isGiven = !said.some(({ kind }) => kind === 'refused')
      const isOthers = model.claimants(lamp, at).some((one) => one !== part)
      const isOwnOrFree = before[lamp] === part || before[lamp] === -1
      if (before[lamp] === part) check(isGiven, `part ${part} was refused its own lamp ${lamp}`)
      if (isOthers && !model.isClaiming(part, at))
        check(!isGiven, `part ${part} lit lamp ${lamp}, claimed by others`)
      if (!isOthers)
        check(isGiven === isOwnOrFree, `lamp ${lamp}, unclaimed by others: given ${isGiven} to ${part}`)
    }
    for (let lamp = 0; lamp < LAMPS; lamp++) {
      const claimants = model.claimants(lamp, at)
      const owner = model.owner[lamp] ?? -1
      const holder = run.state.holder[lamp] ?? -1
      check(run.state.owner[lamp] === owner, `lamp ${lamp}: the books do not agree with the orders`)
      if (owner >= 0) {
        check(mayUse(run.state, owner, lamp), `part ${owner} may not use lamp ${lamp}, which it lights`)
        check(claimants.length === 0 || claimants.includes(owner), `lamp ${lamp} is lit against a claim`)
      }
      check(
        claimants.length === 0 ? holder === -1 : claimants.includes(holder),
        `lamp ${lamp} is held by ${holder}`,
      )
    }
  }
  return { run, faults, at }
}
