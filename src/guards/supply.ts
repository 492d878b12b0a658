import type { LampIndex } from '../domain/ids.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Supply, Lamp } from '../domain/rig.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'

export interface SupplyGuardConfig {
  readonly supplies: readonly Supply[]
  readonly lamps: readonly Lamp[]
  /** `refuse`: a lamp over the limit stays dark. `steal`: it lights, and those lit longest go dark for it. `warn`: it lights, and is counted. */
  readonly action: 'refuse' | 'steal' | 'warn'
}

/** What one moment asks for; each lamp at most once. */
export interface SupplyGuardIn {
  readonly kind: 'wishes'
  readonly wishes: readonly Wish[]
  /** Whether a lamp may go dark for another at this time; left out: it may. */
  readonly maySteal?: boolean | undefined
}

export type SupplyGuardOut =
  | { readonly kind: 'admitted'; readonly wishes: readonly Wish[] }
  | { readonly kind: 'refused'; readonly lamp: LampIndex; readonly supply: string }
  /** Dark, since another lamp of the supply is lit in its place. */
  | { readonly kind: 'stolen'; readonly lamp: LampIndex; readonly supply: string }
  | { readonly kind: 'exceeded'; readonly lamp: LampIndex; readonly supply: string }

export interface SupplyGuardState {
  readonly config: SupplyGuardConfig
  /** Microwatts, whole, so that nothing adds up to a false refusal: the limit and what is lit, per supply; the lamps' own. */
  readonly limits: readonly number[]
  readonly drawn: readonly number[]
  readonly lamps: readonly { readonly supply: number; readonly draws: number }[]
  /** Of each lamp that is lit when it lit, and whose note it is; of those that are dark nothing. */
  readonly since: readonly (LitSince | null)[]
  /** Notes that lost a lamp to another at `at`: in that moment they take none from others. */
  readonly stolen: { readonly at: Micros; readonly notes: readonly string[] }
}

interface LitSince {
  readonly at: Micros
  readonly note: string
  /** It sounds nothing, and gives way to any note. */
  readonly glow?: true
}

const MICROWATTS = 1e6

/** Whether a lamp that is dark could light within its supply's limit, whatever the guard's action. */
export function hasRoom(state: SupplyGuardState, index: LampIndex): boolean {
  const lamp = state.lamps[index]
  return (
    lamp !== undefined && (state.drawn[lamp.supply] ?? 0) + lamp.draws <= (state.limits[lamp.supply] ?? 0)
  )
}

/**
 * Keeps the lamps lit at once within each supply: the sum of watts / volts may not exceed maxAmps x usable. Pulses of different lamps can coincide, so a
 * lit lamp counts as always on (common practice, no source). Within one moment dark lamps go first. Where lamps are stolen, only those that lit before this moment
 * are, longest lit first, and only where that makes room. A lamp that glows between notes goes dark for any note that needs its power.
 */
export const supplyGuard: Stage<SupplyGuardConfig, SupplyGuardState, SupplyGuardIn, SupplyGuardOut> = {
  name: 'supply guard',
  start: (config) => ({
    config,
    limits: config.supplies.map(({ volts, maxAmps, usable }) =>
      Math.floor(volts * maxAmps * usable * MICROWATTS + 0.5),
    ),
    drawn: config.supplies.map(() => 0),
    lamps: config.lamps.map((lamp) => ({
      supply: config.supplies.findIndex(({ id }) => id === lamp.supply),
      draws: Math.round(lamp.watts * MICROWATTS),
    })),
    since: config.lamps.map(() => null),
    stolen: { at: -1, notes: [] },
  }),
  step(state, { wishes, maySteal = true }, now): Step<SupplyGuardState, SupplyGuardOut> {
    const work = new Guarding(state, now, maySteal)
    for (const wish of wishes) if (!wish.state.on) work.darken(wish)
    for (const wish of wishes) if (wish.state.on && wish.state.glow) work.glow(wish)
    for (const wish of wishes) if (wish.state.on && !wish.state.glow) work.light(wish, wishes)
    return work.done()
  },
}

/** One step at work. The state it was given is left as it is. */
class Guarding {
  readonly #state: SupplyGuardState
  readonly #now: Micros
  readonly #drawn: number[]
  /** The state's own until something is other. */
  #since: readonly (LitSince | null)[]
  readonly #stolen: string[]
  readonly #maySteal: boolean
  readonly #admitted: Wish[] = []
  /** Lamps that are to glow from now on, as long as no note of this moment needs their power. */
  readonly #glows = new Map<LampIndex, Wish>()
  readonly #out: SupplyGuardOut[] = []

  constructor(state: SupplyGuardState, now: Micros, maySteal: boolean) {
    this.#state = state
    this.#now = now
    this.#maySteal = maySteal
    this.#drawn = state.drawn.slice()
    this.#since = state.since
    this.#stolen = state.stolen.at === now ? [...state.stolen.notes] : []
  }

  darken(wish: Wish): void {
    this.#putOut(wish.lamp)
    this.#admitted.push(wish)
  }

  /** It draws what it drew. A lamp that is not lit has nothing to go on with. */
  glow(wish: Wish): void {
    const since = this.#since[wish.lamp]
    if (!since) return this.darken({ ...wish, state: DARK })
    this.#put(wish.lamp, { at: since.at, note: since.note, glow: true })
    this.#glows.set(wish.lamp, wish)
  }

  light(wish: Wish, wishes: readonly Wish[]): void {
    const lamp = this.#state.lamps[wish.lamp]
    if (!lamp || !wish.state.on) return
    const note = `${wish.state.player} ${wish.state.note}`
    if (!this.#since[wish.lamp]) {
      if (!this.#hasRoom(lamp.supply, lamp.draws) && !this.#makeRoom(wish, note, wishes)) return
      this.#drawn[lamp.supply] = (this.#drawn[lamp.supply] ?? 0) + lamp.draws
      this.#put(wish.lamp, { at: this.#now, note })
    } else if (wish.state.strike || this.#since[wish.lamp]?.glow)
      this.#put(wish.lamp, { at: this.#now, note })
    this.#admitted.push(wish)
  }

  done(): Step<SupplyGuardState, SupplyGuardOut> {
    const stolen = this.#stolen.length > 0 ? { at: this.#now, notes: this.#stolen } : this.#state.stolen
    const { config, limits, lamps } = this.#state
    const state = { config, limits, drawn: this.#drawn, lamps, since: this.#since, stolen }
    const wishes = this.#glows.size > 0 ? [...this.#admitted, ...this.#glows.values()] : this.#admitted
    return { state, out: [{ kind: 'admitted', wishes }, ...this.#out] }
  }

  #hasRoom(supply: number, draws: number): boolean {
    return (this.#drawn[supply] ?? 0) + draws <= (this.#state.limits[supply] ?? 0)
  }

  /** By what the guard's action is; false: the lamp stays dark. */
  #makeRoom({ lamp: index }: Wish, note: string, wishes: readonly Wish[]): boolean {
    const { config, lamps } = this.#state
    const { supply: at = -1, draws = 0 } = lamps[index] ?? {}
    const supply = config.supplies[at]?.id ?? ''
    const glowing = this.#victims(at, draws, ({ glow }) => glow === true)
    if (glowing.length > 0) {
      for (const lamp of glowing) this.#giveWay(lamp)
      return true
    }
    if (config.action === 'warn') {
      this.#out.push({ kind: 'exceeded', lamp: index, supply })
      return true
    }
    if (config.action === 'steal' && this.#maySteal && !this.#stolen.includes(note)) {
      const wished = new Set(wishes.map(({ lamp }) => lamp))
      const mayGo = (since: LitSince, lamp: LampIndex): boolean =>
        since.glow === true || (since.at < this.#now && !wished.has(lamp))
      const victims = this.#victims(at, draws, mayGo)
      for (const victim of victims) {
        const lit = this.#since[victim]
        if (lit?.glow) this.#giveWay(victim)
        else {
          if (lit) this.#stolen.push(lit.note)
          this.#putOut(victim)
          this.#out.push({ kind: 'stolen', lamp: victim, supply })
        }
      }
      if (victims.length > 0) return true
    }
    this.#out.push({ kind: 'refused', lamp: index, supply })
    return false
  }

  #giveWay(lamp: LampIndex): void {
    this.#glows.delete(lamp)
    this.darken({ lamp, state: DARK, gap: 0 })
  }

  /** As few of those that may go as make room for so much, glowing ones first, then those lit longest; none where all of them would not. */
  #victims(supply: number, draws: number, mayGo: (since: LitSince, lamp: LampIndex) => boolean): LampIndex[] {
    const lit = this.#state.lamps.flatMap((lamp, index) => {
      const since = this.#since[index]
      if (lamp.supply !== supply || !since || !mayGo(since, index)) return []
      return [{ index, at: since.at, draws: lamp.draws, first: since.glow ? 0 : 1 }]
    })
    const victims: LampIndex[] = []
    let over = (this.#drawn[supply] ?? 0) + draws - (this.#state.limits[supply] ?? 0)
    for (const one of lit.toSorted((a, b) => a.first - b.first || a.at - b.at || a.index - b.index)) {
      if (over <= 0) break
      victims.push(one.index)
      over -= one.draws
    }
    return over <= 0 ? victims : []
  }

  #putOut(index: LampIndex): void {
    const lamp = this.#state.lamps[index]
    if (!lamp || !this.#since[index]) return
    this.#drawn[lamp.supply] = (this.#drawn[lamp.supply] ?? 0) - lamp.draws
    this.#put(index, null)
  }

  #put(lamp: LampIndex, since: LitSince | null): void {
    const own = this.#since === this.#state.since ? this.#since.slice() : (this.#since as (LitSince | null)[])
    own[lamp] = since
    this.#since = own
  }
}
