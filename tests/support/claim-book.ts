import type { LampIndex, PartIndex } from '../../src/domain/ids.ts'
import type { Claim } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'

export interface PartPlan {
  readonly lamps: readonly LampIndex[]
  readonly claim?: Claim | undefined
}

/** Who may claim what, in the plainest words: who plays, since when, and until when. Nothing of how the stage keeps its books. */
export class ClaimBook {
  readonly #plans: readonly PartPlan[]
  readonly #sounding: number[]
  readonly #lastEnd: Micros[]
  /** Since the beginning, or since all was made dark. */
  readonly #hasPlayed: boolean[]
  /** In which place its claim came, where it is active; those for always before all. */
  readonly #came: number[]
  #comings = 0

  constructor(plans: readonly PartPlan[]) {
    this.#plans = plans
    this.#sounding = plans.map(() => 0)
    this.#lastEnd = plans.map(() => -Infinity)
    this.#hasPlayed = plans.map(() => false)
    this.#came = plans.map((_, part) => part - plans.length)
  }

  strikes(part: PartIndex, now: Micros): void {
    if (!this.isClaiming(part, now)) this.#came[part] = ++this.#comings
    this.#sounding[part] = (this.#sounding[part] ?? 0) + 1
    this.#hasPlayed[part] = true
  }

  /** Left out: one note. */
  ends(part: PartIndex, now: Micros, count = 1): void {
    const before = this.#sounding[part] ?? 0
    const after = Math.max(0, before - count)
    this.#sounding[part] = after
    if (before > 0 && after === 0) this.#lastEnd[part] = now
  }

  darkAll(): void {
    for (const part of this.#plans.keys()) {
      this.#sounding[part] = 0
      this.#lastEnd[part] = -Infinity
      this.#hasPlayed[part] = false
    }
  }

  isClaiming(part: PartIndex, now: Micros): boolean {
    const rule = this.#plans[part]?.claim
    if (!rule) return false
    if (rule.when === 'always') return true
    if (rule.when === 'latched') return this.#hasPlayed[part] === true
    const until = (this.#lastEnd[part] ?? 0) + Math.round(rule.releaseMs * 1000)
    return (this.#sounding[part] ?? 0) > 0 || now < until
  }

  /** The part whose claim has the lamp, or -1: the highest priority, and of these the first that came. */
  holder(lamp: LampIndex, now: Micros): PartIndex {
    const [first] = [...this.#plans.keys()]
      .filter((part) => this.#plans[part]?.lamps.includes(lamp) && this.isClaiming(part, now))
      .sort(
        (a, b) =>
          (this.#plans[b]?.claim?.priority ?? 0) - (this.#plans[a]?.claim?.priority ?? 0) ||
          (this.#came[a] ?? 0) - (this.#came[b] ?? 0),
      )
    return first ?? -1
  }
}
