import fc from 'fast-check'
import type { ClaimsIn, ClaimsOut } from '../../src/claims/claims.ts'
import { claims, mayUse } from '../../src/claims/claims.ts'
import type { LampIndex, PartIndex } from '../../src/domain/ids.ts'
import type { Claim } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'
import { claim, dark, ends, light, played, strikes, wants } from './claiming.ts'
import type { PartPlan } from './claim-book.ts'
import { ClaimBook } from './claim-book.ts'
import { StageRun } from './stage-run.ts'

export const LAMPS = 4
const PARTS = 3

const partPlan: fc.Arbitrary<PartPlan> = fc.record({
  lamps: fc.uniqueArray(fc.nat(LAMPS - 1), { minLength: 1 }),
  claim: fc.oneof(
    fc.constant(undefined),
    fc
      .tuple(
        fc.constantFrom<Claim['when']>('playing', 'playing', 'latched', 'always'),
        fc.constantFrom(0, 0.0001, 1, 50),
        fc.constantFrom(0, 0, 1, -1, 100),
      )
      .map((right) => claim(...right)),
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

const MOVES = [
  'light',
  'light',
  'dark',
  'swap',
  'on',
  'on',
  'off',
  'off',
  'all-off',
  'refused',
  'failed',
  'dark-all',
]
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
    case 'dark-all':
      return { kind: 'dark-all' }
    case 'refused':
      return { kind: 'refused', part, lamp, note, reason: 'supply' }
    default:
      return { kind: 'failed', part }
  }
}

/** Who lights what, by the orders alone. */
class Lamps {
  readonly owner: PartIndex[] = Array.from({ length: LAMPS }, () => -1)

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

function hear(book: ClaimBook, { part, what }: Move, now: Micros): void {
  if (what === 'on') book.strikes(part, now)
  else if (what === 'off') book.ends(part, now)
  else if (what === 'all-off') book.ends(part, now, Infinity)
  else if (what === 'dark-all') book.darkAll()
}

/** Plays the moves and says all that was against the rules. */
export function playClaims(plans: readonly PartPlan[], moves: readonly Move[], isPutDown = false) {
  const run = new StageRun(claims, { lamps: LAMPS, parts: plans }, isPutDown)
  const book = new ClaimBook(plans)
  const lamps = new Lamps()
  const faults: string[] = []
  let at = 0
  const check = (isRight: boolean, what: string): void => {
    if (!isRight) faults.push(`${at}: ${what}`)
  }
  for (const move of moves) {
    at += move.after
    const { part, what } = move
    const plan = plans[part] as PartPlan
    faults.push(...lamps.follow(run.wakeUpTo(at).map(({ out }) => out)))
    const before = lamps.owner.slice()
    const said = run.at(at, eventOf(move, plan))
    hear(book, move, at)
    faults.push(...lamps.follow(said))
    for (const out of said) {
      if (out.kind === 'gained')
        check(
          mayUse(run.state, out.part, out.lamp),
          `part ${out.part} gained lamp ${out.lamp} but may not use it`,
        )
      if (out.kind === 'lost') {
        check(before[out.lamp] === out.part, `part ${out.part} lost lamp ${out.lamp}, which it did not light`)
        check(book.holder(out.lamp, at) !== -1, `part ${out.part} lost lamp ${out.lamp} to nobody`)
      }
    }
    if (what === 'light') {
      const lamp = lampOf(move, plan)
      const isGiven = !said.some(({ kind }) => kind === 'refused')
      const holder = book.holder(lamp, at)
      const isOwnOrFree = before[lamp] === part || before[lamp] === -1
      check(isGiven === (holder === -1 ? isOwnOrFree : holder === part), `lamp ${lamp}: given ${isGiven}`)
    }
    for (let lamp = 0; lamp < LAMPS; lamp++) {
      const holder = book.holder(lamp, at)
      const owner = lamps.owner[lamp] ?? -1
      check(run.state.owner[lamp] === owner, `lamp ${lamp}: the books do not agree with the orders`)
      check(
        run.state.holder[lamp] === holder,
        `lamp ${lamp} is held by ${run.state.holder[lamp]}, not ${holder}`,
      )
      if (owner >= 0) {
        check(holder === -1 || holder === owner, `lamp ${lamp} is lit against a claim`)
        check(mayUse(run.state, owner, lamp), `part ${owner} may not use lamp ${lamp}, which it lights`)
      }
    }
  }
  return { run, faults, at }
}
