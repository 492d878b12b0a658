import { Subject } from 'rxjs'
import type { FlashGuard } from '../domain/flash-guard.ts'
import type { LampIndex } from '../domain/ids.ts'
import type { LampChange, LampState } from '../domain/lamp-state.ts'
import { DARK, sameState } from '../domain/lamp-state.ts'
import type { Rig } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Wish } from '../domain/wish.ts'
import type { FlashGuardIn, FlashGuardOut, FlashGuardState, GlowLight } from '../guards/flash.ts'
import { flashGuard, mayDarken } from '../guards/flash.ts'
import type { LampHeatIn } from '../guards/lamp-heat.ts'
import { lampHeat } from '../guards/lamp-heat.ts'
import type { SupplyGuardIn, SupplyGuardOut, SupplyGuardState } from '../guards/supply.ts'
import { hasRoom, supplyGuard } from '../guards/supply.ts'
import { glowLight } from '../tuning/glow-light.ts'
import type { Agenda } from './agenda.ts'
import { Finder } from './finder.ts'
import type { House } from './house.ts'
import type { Lifted } from './lift.ts'
import { lift } from './lift.ts'

export interface MomentOptions {
  readonly show: Show
  readonly lamps: readonly LampState[]
  readonly agenda: Agenda
  readonly house: House
  /** The flash guard of the first song. */
  readonly flash: FlashGuard
  readonly ownerOf: (lamp: LampIndex) => string | undefined
  /** A guard refused the lamp to the note that is on it: it is dark. */
  readonly refused: (lamp: LampIndex) => void
  /** Parts and guards do not agree: every note is to end. */
  readonly unsettled: () => void
}

/** What lamps are asked to do within one moment, until the guards and the parts agree on it; and what they do. */
export class Moment {
  readonly finder: Finder
  readonly #options: MomentOptions
  readonly #lamps: LampState[]
  readonly #flashed = new Subject<FlashGuardIn>()
  readonly #flash: Lifted<FlashGuardState, FlashGuardIn, FlashGuardOut>
  readonly #guarded = new Subject<SupplyGuardIn>()
  readonly #heated = new Subject<LampHeatIn>()
  readonly #guard: Lifted<SupplyGuardState, SupplyGuardIn, SupplyGuardOut>
  /** Each lamp's last. */
  #wishes = new Map<LampIndex, Wish>()
  /** What the guards let through. */
  #admitted = new Map<LampIndex, LampState>()
  /** Lit to be found until a note of this moment took it. */
  #givenUp: LampIndex | undefined
  /** A song began: lamps that it says nothing of are to be dark. */
  #mustDarken = false
  #hasBegun = false
  /** Everything is to be dark at once. */
  #isDark = false
  /** What lamps may glow by: boxes may turn out to have other timers than the show says. */
  #rig: Rig

  constructor(options: MomentOptions) {
    this.#options = options
    this.#lamps = [...options.lamps]
    this.#rig = options.show.rig
    this.#flash = this.#connectFlash(options.flash)
    this.#guard = this.#connectSupply()
    this.#connectHeat()
    const { agenda, house, ownerOf } = options
    this.finder = new Finder({
      agenda,
      house,
      ownerOf,
      hasRoom: (lamp) => hasRoom(this.#guard.state, lamp),
      wish: (wish, isSoft) => {
        if (!isSoft || !this.#wishes.has(wish.lamp)) this.#wishes.set(wish.lamp, wish)
      },
    })
  }

  /** What every lamp does, in the rig's order. */
  get lamps(): readonly LampState[] {
    return this.#lamps
  }

  /** Within a moment a lamp's last state counts; that it was struck in between stays true. */
  wish(wish: Wish): void {
    if (wish.lamp === this.finder.lamp) {
      // No part has the lamp until one lights it.
      if (!wish.state.on) return
      this.finder.stop(`lit by part ${wish.state.part}`)
      this.#givenUp = wish.lamp
      this.#wishes.set(wish.lamp, { ...wish, state: { ...wish.state, strike: true } })
      return
    }
    const earlier = this.#wishes.get(wish.lamp)
    const struck = earlier?.state.on && earlier.state.strike && wish.state.on && !wish.state.strike
    this.#wishes.set(
      wish.lamp,
      struck ? { ...wish, state: { ...wish.state, strike: true } as LampState } : wish,
    )
  }

  /** Nothing holds a lamp back from going dark in this moment. */
  darkenAll(): void {
    this.#isDark = true
    for (const lamp of this.#lamps.keys()) this.#wishes.set(lamp, { lamp, state: DARK, gap: 0 })
  }

  /** A song begins: what the one before it wanted in this moment is void, and each lamp does what the new one wants of it, or is dark. */
  begin(): void {
    this.#givenUp = this.finder.lamp ?? this.#givenUp
    this.finder.stop('a song begins')
    this.#wishes.clear()
    this.#mustDarken = true
    this.#hasBegun = true
  }

  /** The song that plays has this flash guard from now on. */
  guardFlash(guard: FlashGuard): void {
    this.#flashed.next({ kind: 'guard', guard, glows: glowsOf(this.#rig, guard) })
  }

  /** A lamp box turned out to have another timer. */
  retime(rig: Rig): void {
    this.#rig = rig
    this.guardFlash(this.#flash.state.config.guard)
  }

  /** Guards until nothing is refused any more. */
  agree(): void {
    const { agenda, house } = this.#options
    const limit = 4 * this.#lamps.length + 64
    for (let round = 0; this.#wishes.size > 0 || this.#mustDarken; round++) {
      this.#darkenOthers()
      this.#giveUp()
      this.#makeRoom()
      const wishes = [...this.#wishes.values()]
      this.#wishes.clear()
      if (round === limit) {
        const message = 'parts and guards did not agree; all notes end'
        house.report({ level: 'fault', source: 'graph', code: 'unsettled', message })
        this.#options.unsettled()
      } else if (round > limit) for (const { lamp } of wishes) this.#admitted.set(lamp, DARK)
      else this.#flashed.next({ kind: 'wishes', wishes, isDark: this.#isDark })
      agenda.drain()
    }
  }

  /** What is new, each lamp once, dark ones first; it is so from here on. */
  changes(): readonly LampChange[] {
    const begun = this.#hasBegun
    this.#hasBegun = false
    this.#isDark = false
    if (this.#admitted.size === 0) return []
    const changes: LampChange[] = []
    for (const [index, admitted] of this.#admitted) {
      const lamp = this.#options.show.rig.lamps[index]
      const before = this.#lamps[index]
      if (!lamp || !before) continue
      const state = begun ? asBegun(admitted, before) : admitted
      if (sameState(before, state)) continue
      this.#lamps[index] = state
      changes.push({ lamp: lamp.id, index, state })
    }
    this.#admitted.clear()
    if (changes.length > 0) this.#flashed.next({ kind: 'done', changes })
    return changes.sort((a, b) => Number(a.state.on) - Number(b.state.on) || a.index - b.index)
  }

  #darkenOthers(): void {
    if (!this.#mustDarken) return
    this.#mustDarken = false
    for (let lamp = 0; lamp < this.#lamps.length; lamp++) {
      const isLit = this.#admitted.get(lamp)?.on ?? this.#lamps[lamp]?.on
      if (isLit && !this.#wishes.has(lamp)) this.#wishes.set(lamp, { lamp, state: DARK, gap: 0 })
    }
  }

  /** To the guard a lamp that went from being found to a note was dark in between: that it was lit wins the note nothing over others of its moment. */
  #giveUp(): void {
    const lamp = this.#givenUp
    if (lamp === undefined) return
    this.#givenUp = undefined
    this.#guarded.next({ kind: 'wishes', wishes: [{ lamp, state: DARK, gap: 0 }] })
  }

  /** A note goes before a lamp that is only lit to be found: where the guard would refuse one for want of the power that this takes, it goes dark. */
  #makeRoom(): void {
    const { lamp } = this.finder
    if (lamp === undefined || this.#wishes.has(lamp)) return
    const wishes = [...this.#wishes.values()]
    const without: Wish[] = [...wishes, { lamp, state: DARK, gap: 0 }]
    const { now } = this.#options.agenda
    const overLimit = (asked: readonly Wish[]): number => {
      const held = flashGuard.step(this.#flash.state, { kind: 'wishes', wishes: asked }, now).out
      const all = held.flatMap((out) => (out.kind === 'wishes' ? out.wishes : []))
      const { out } = supplyGuard.step(this.#guard.state, this.#within(all), now)
      return out.filter(({ kind }) => kind !== 'admitted').length
    }
    if (overLimit(without) < overLimit(wishes)) this.finder.stop('a note needs its power')
  }

  /** First, since what it keeps lit draws power. */
  #connectFlash(guard: FlashGuard): Lifted<FlashGuardState, FlashGuardIn, FlashGuardOut> {
    const { house, agenda, show } = this.#options
    const name = 'flash guard'
    const config = { guard, glows: glowsOf(show.rig, guard) }
    const flash = lift(name, flashGuard, config, agenda, (error, event) => {
      house.fault(name, error)
      if (event.kind === 'wishes') for (const { lamp } of event.wishes) this.#refuse(lamp)
    })
    house.own(
      this.#flashed.pipe(flash.operator()).subscribe((out) => {
        if (out.kind === 'wishes') this.#guarded.next(this.#within(out.wishes))
        else house.tap({ kind: out.kind, at: agenda.now, lamp: show.rig.lamps[out.lamp]?.id ?? '' })
      }),
    )
    return flash
  }

  #within(wishes: readonly Wish[]): SupplyGuardIn {
    return { kind: 'wishes', wishes, maySteal: mayDarken(this.#flash.state, this.#options.agenda.now) }
  }

  #connectSupply(): Lifted<SupplyGuardState, SupplyGuardIn, SupplyGuardOut> {
    const { house, agenda, show } = this.#options
    const { rig, guards } = show
    const config = { supplies: rig.supplies, lamps: rig.lamps, action: guards.supply.action }
    const guard = lift('supply guard', supplyGuard, config, agenda, (error, { wishes }) => {
      // What cannot be judged stays dark.
      house.fault('supply guard', error)
      for (const { lamp } of wishes) this.#refuse(lamp)
    })
    house.own(
      this.#guarded.pipe(guard.operator()).subscribe((out) => {
        if (out.kind === 'admitted') this.#heated.next({ kind: 'wishes', wishes: out.wishes })
        else if (out.kind === 'refused') this.#refuse(out.lamp)
        else if (out.kind === 'stolen') {
          house.tap({ ...out, kind: 'shed', at: agenda.now, lamp: rig.lamps[out.lamp]?.id ?? '' })
          this.#refuse(out.lamp)
        } else {
          const lamp = rig.lamps[out.lamp]?.id ?? ''
          house.tap({ kind: 'exceeded', at: agenda.now, lamp, supply: out.supply })
        }
      }),
    )
    return guard
  }

  /** Last of all, since what it holds down is not refused to anybody. */
  #connectHeat(): void {
    const { house, agenda, show } = this.#options
    const name = 'lamp heat'
    const heat = lift(name, lampHeat, { lamps: show.rig.lamps }, agenda, (error, event) => {
      house.fault(name, error)
      if (event.kind === 'wake') return
      for (const { lamp } of event.wishes) {
        this.#admitted.set(lamp, DARK)
        this.#options.refused(lamp)
      }
    })
    house.own(
      this.#heated.pipe(heat.operator()).subscribe(({ wishes, held }) => {
        for (const { lamp, state } of wishes) this.#admitted.set(lamp, state)
        for (const lamp of held)
          house.tap({ kind: 'held-down', at: agenda.now, lamp: show.rig.lamps[lamp]?.id ?? '' })
      }),
    )
  }

  #refuse(lamp: LampIndex): void {
    if (lamp === this.finder.lamp) this.finder.stop('refused by the supply guard')
    this.#heated.next({ kind: 'wishes', wishes: [{ lamp, state: DARK, gap: 0 }] })
    this.#options.refused(lamp)
  }
}

/** How each lamp would glow, in the rig's order; null: not at all. */
function glowsOf(rig: Rig, guard: FlashGuard): (GlowLight | null)[] {
  if (guard.action !== 'glow') return rig.lamps.map(() => null)
  return rig.lamps.map((lamp) => {
    const output = rig.outputs.find(({ id }) => id === lamp.output)
    return (output && glowLight(lamp, output, guard.hz)) ?? null
  })
}

/** Whatever the parts say: a lamp that sounds the same note as in the song before goes on, every other is struck. */
function asBegun(state: LampState, before: LampState): LampState {
  if (!state.on) return state
  const goesOn = before.on && state.note > 0 && before.note === state.note && before.player === state.player
  return state.strike === goesOn ? { ...state, strike: !goesOn } : state
}
