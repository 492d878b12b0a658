import type { LampIndex, NoteId, OutputId, PartIndex } from '../domain/ids.ts'
import type { LampState, Lit } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Order } from '../domain/order.ts'
import type { Expression } from '../domain/part-event.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Step } from '../domain/stage.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import type { Hz, Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'
import { glideFrom } from './motion.ts'
import { flashAtOnce, nextFlash } from './pulse.ts'
import { gridOf, isDue, nextWake, partNow } from './resolve-due.ts'
import type { ResolveIn, ResolveOut, ResolveState, SongBeats, Work } from './resolve-state.ts'
import { keyToHz } from './tuning.ts'
import type { Fold } from './unseen.ts'
import type { LampPlace, PartNow, ResolvePart, Sounding } from './voice-light.ts'
import { dutyOf, lightOf, steadyHz, wantedHz } from './voice-light.ts'

/** An octave, and not what rounding makes. */
const MOVED = 1.5

/** One step at work. The state it was given is left as it is. */
export class Resolving {
  #state: ResolveState
  readonly #now: Micros
  #lamps: (Work | null)[] | undefined
  readonly #wishes: Wish[] = []
  /** Besides wishes. */
  readonly #told: ResolveOut[] = []

  constructor(state: ResolveState, now: Micros) {
    this.#state = state
    this.#now = now
  }

  hear(event: ResolveIn): void {
    switch (event.kind) {
      case 'orders':
        return this.#carryOut(event.orders)
      case 'begin':
        return this.#begin(event.orders, event.lamps)
      case 'expression':
        return this.#express(event.part, event.expression)
      case 'timer':
        return this.#retime(event.output, event.timer)
      case 'tunings':
        return this.#retune(event.tunings, event.retune)
      case 'fold':
        return this.#refold(event.fold)
      case 'time':
        this.#follow(event.time)
        return this.#flash()
      case 'wake':
        return this.#flash()
    }
  }

  done(): Step<ResolveState, ResolveOut> {
    this.#tellMoved()
    const state = this.#lamps ? { ...this.#state, lamps: this.#lamps } : this.#state
    this.#state = state
    const out: ResolveOut[] =
      this.#wishes.length > 0 ? [{ kind: 'wishes', wishes: this.#wishes }, ...this.#told] : this.#told
    return { state, out, wake: nextWake(state, this.#now) }
  }

  get #works(): readonly (Work | null)[] {
    return this.#lamps ?? this.#state.lamps
  }

  #put(lamp: LampIndex, work: Work | null): void {
    this.#lamps ??= this.#state.lamps.slice()
    this.#lamps[lamp] = work
  }

  #carryOut(orders: readonly Order[]): void {
    if (orders.length === 0) return
    if (this.#state.since === null && orders.some(({ kind }) => kind === 'light'))
      this.#state = { ...this.#state, since: this.#now }
    const lasts = this.#state.lasts.slice()
    for (const order of orders) {
      if (order.kind === 'light') {
        const hz = this.#light(order)
        if (hz !== undefined) lasts[order.part] = hz
      } else {
        this.#put(order.lamp, null)
        this.#wishes.push({ lamp: order.lamp, state: DARK, gap: 0 })
      }
    }
    if (lasts.some((hz, part) => hz !== this.#state.lasts[part])) this.#state = { ...this.#state, lasts }
  }

  /** Returns what the voice's own pitch is on the lamp; undefined where it was refused. */
  #light({ lamp, part, voice, strike }: Order & { kind: 'light' }): Hz | undefined {
    const place = this.#state.config.lamps[lamp]
    const by = partNow(this.#state, part, voice.channel, this.#now)
    if (!place || !by) return undefined
    const known = this.#works[lamp] ?? null
    const before = known?.part === part ? known : null
    const key = keyToHz(by.part.tuning, voice.key)
    if (key === undefined) return this.#refuse(lamp, part, voice.note, 'unmapped')
    const base = key * voice.ratio
    const steady = steadyHz({ voice, base }, place, by)
    const gliding = steady === undefined ? null : this.#glide(by.part, part, before, strike, steady)
    const struckAt = strike || !before ? this.#now : before.struckAt
    const sounding: Sounding = { part, voice, base, struckAt, gliding }
    const legato = !strike && known?.lit?.drive.kind === 'bend' ? known.lit.drive.key : undefined
    const grid = gridOf(this.#state, by, this.#now)
    const flash = grid && flashAtOnce(grid, dutyOf(voice, place.lamp, by), this.#now)
    const lit = lightOf(sounding, lamp, place, by, this.#now, strike, legato, flash)
    if (!lit) return this.#refuse(lamp, part, voice.note, 'range')
    this.#tellFolded(sounding, lamp, place, by, lit)
    if (grid && flash === undefined) this.#await(lamp, sounding, strike, known)
    else {
      this.#put(lamp, { ...sounding, lit, isWaiting: false, isStale: false, toldAt: this.#now })
      this.#wishes.push({ lamp, state: lit, gap: by.part.gap })
    }
    return steady
  }

  #tellFolded(sounding: Sounding, lamp: LampIndex, place: LampPlace, by: PartNow, { hz: to }: Lit): void {
    if (!by.fold) return
    const from = wantedHz(sounding, lamp, place, { ...by, fold: undefined }, this.#now)
    if (from !== undefined && to > from * MOVED)
      this.#told.push({ kind: 'folded', lamp, part: sounding.part, from, to })
  }

  #refuse(lamp: LampIndex, part: PartIndex, note: NoteId, reason: 'range' | 'unmapped'): undefined {
    this.#told.push({ kind: 'refused', lamp, part, note, reason })
    return undefined
  }

  #glide(part: ResolvePart, index: PartIndex, before: Work | null, strike: boolean, to: Hz) {
    const { glide } = part
    if (!glide) return null
    // A voice that goes on is where its lamp is, on its way or not.
    if (!strike && before?.lit) return glideFrom(glide, before.lit.hz, to, this.#now)
    if (glide.when !== 'always') return null
    const from = before?.lit?.hz ?? this.#state.lasts[index]
    return from === null || from === undefined ? null : glideFrom(glide, from, to, this.#now)
  }

  /** A lamp that pulses begins with its next flash. Another part's light does not stay until then. */
  #await(lamp: LampIndex, sounding: Sounding, strike: boolean, before: Work | null): void {
    const own = before?.part === sounding.part ? before : null
    const isWaiting = strike || (own?.isWaiting ?? false)
    this.#put(lamp, { ...sounding, lit: own?.lit ?? null, isWaiting, isStale: false, toldAt: this.#now })
    if (before?.lit && !own) this.#wishes.push({ lamp, state: DARK, gap: 0 })
  }

  /** The flashes that are due. */
  #flash(): void {
    this.#works.forEach((work, lamp) => {
      if (!work || !this.#state.config.parts[work.part]?.pulse) return
      const by = partNow(this.#state, work.part, work.voice.channel, this.#now)
      const grid = by && gridOf(this.#state, by, this.#now)
      if (!grid) return
      const flash = nextFlash(grid, this.#now)
      const isTold = work.toldAt === this.#now && work.lit?.flash === flash.number
      if (flash.at === this.#now && !isTold) this.#tell(lamp, work, by, flash.number)
    })
  }

  /** Tells a sounding lamp what becomes of it now. */
  #tell(lamp: LampIndex, work: Work, by: PartNow, flash?: number): void {
    const place = this.#state.config.lamps[lamp]
    if (!place) return
    const legato = work.lit?.drive.kind === 'bend' ? work.lit.drive.key : undefined
    const lit = lightOf(work, lamp, place, by, this.#now, work.isWaiting, legato, flash)
    if (!lit) this.#refuse(lamp, work.part, work.voice.note, 'range')
    else this.#wishes.push({ lamp, state: lit, gap: by.part.gap })
    const told = lit ? { lit, isWaiting: false } : {}
    this.#put(lamp, { ...work, ...told, isStale: false, toldAt: this.#now })
  }

  #begin(orders: readonly Order[], before: readonly LampState[]): void {
    const begun = orders.map((order): Order => {
      if (order.kind === 'dark') return order
      const lit = before[order.lamp]
      const { voice, part } = order
      const goesOn =
        lit?.on === true &&
        voice.note > 0 &&
        lit.note === voice.note &&
        lit.player === this.#state.config.parts[part]?.player
      if (goesOn) {
        const work = { part, voice, base: lit.hz, struckAt: this.#now, gliding: null }
        this.#put(order.lamp, { ...work, lit, isWaiting: false, isStale: false, toldAt: this.#now })
      }
      return { ...order, strike: !goesOn }
    })
    this.#carryOut(begun)
  }

  /** The output's lamps go by the new timer from now on, those that sound as well. */
  #retime(id: OutputId, timer: TimerSpec): void {
    const { config } = this.#state
    const lamps = config.lamps.map((place) => {
      const { lamp, output } = place
      return output.id === id && output.kind === 'serial' ? { lamp, output: { ...output, timer } } : place
    })
    this.#state = { ...this.#state, config: { ...config, lamps } }
    this.#tellAtOnce((_, lamp) => lamps[lamp] !== config.lamps[lamp])
  }

  #retune(tunings: readonly KeyTuning[], retune: boolean): void {
    const { config } = this.#state
    const parts = config.parts.map((part, index) => ({ ...part, tuning: tunings[index] ?? part.tuning }))
    this.#state = { ...this.#state, config: { ...config, parts } }
    if (!retune) return
    this.#works.forEach((work, lamp) => {
      const tuning = work && parts[work.part]?.tuning
      if (!work || !tuning) return
      const hz = keyToHz(tuning, work.voice.key)
      if (hz === undefined) this.#refuse(lamp, work.part, work.voice.note, 'unmapped')
      else if (hz * work.voice.ratio !== work.base)
        this.#put(lamp, { ...work, base: hz * work.voice.ratio, isStale: true })
    })
    this.#tellAtOnce(({ isStale }) => isStale)
  }

  #refold(fold: Fold | undefined): void {
    const { config } = this.#state
    if (config.fold === fold) return
    this.#state = { ...this.#state, config: { ...config, fold } }
    this.#tellAtOnce(() => true)
  }

  #tellAtOnce(which: (work: Work, lamp: LampIndex) => boolean): void {
    this.#works.forEach((work, lamp) => {
      if (!work || !which(work, lamp)) return
      const by = partNow(this.#state, work.part, work.voice.channel, this.#now)
      if (by && work.lit) this.#tell(lamp, { ...work, isWaiting: false }, by)
    })
  }

  #follow(time: SongBeats): void {
    const before = this.#state.time
    this.#state = { ...this.#state, time }
    if (time.tempo === before.tempo && time.clock.tempo > 0 === before.clock.tempo > 0) return
    this.#touch((work) => this.#state.config.parts[work.part]?.pulse !== undefined)
  }

  #express(part: PartIndex, expression: Expression): void {
    const { bends, duties, vibratos, pitched } = this.#state
    switch (expression.kind) {
      case 'duty':
        if (duties[part] === expression.duty) return
        this.#state = { ...this.#state, duties: duties.with(part, expression.duty) }
        return this.#touch((work) => work.part === part && work.voice.duty === undefined)
      case 'vibrato':
        if (vibratos[part] === expression.amount) return
        this.#state = { ...this.#state, vibratos: vibratos.with(part, expression.amount) }
        return this.#touch((work) => work.part === part)
      case 'pitched':
        if (pitched[part] === expression.amount) return
        this.#state = { ...this.#state, pitched: pitched.with(part, expression.amount) }
        return this.#touch((work) => work.part === part)
      case 'bend': {
        const { channel, cents } = expression
        const own = bends[part]
        if (!own || own[channel - 1] === cents) return
        this.#state = { ...this.#state, bends: bends.with(part, own.with(channel - 1, cents)) }
        return this.#touch((work) => work.part === part && work.voice.channel === channel)
      }
    }
  }

  #touch(which: (work: Work) => boolean): void {
    this.#works.forEach((work, lamp) => {
      if (work && !work.isStale && which(work)) this.#put(lamp, { ...work, isStale: true })
    })
  }

  /** Sounding lamps that have moved, output by output, where its wire has had its rest. */
  #tellMoved(): void {
    const due = new Map<OutputId, LampIndex[]>()
    this.#works.forEach((work, lamp) => {
      const output = this.#state.config.lamps[lamp]?.output.id
      if (!work || output === undefined || !isDue(this.#state, work, lamp, this.#now)) return
      due.set(output, [...(due.get(output) ?? []), lamp])
    })
    if (due.size === 0) return
    const paces = { ...this.#state.paces }
    for (const [output, lamps] of due) {
      const pace = paces[output]
      if (pace) paces[output] = { ...pace, at: this.#now }
      for (const lamp of lamps) {
        const work = this.#works[lamp]
        const by = work && partNow(this.#state, work.part, work.voice.channel, this.#now)
        if (work && by) this.#tell(lamp, work, by)
      }
    }
    this.#state = { ...this.#state, paces }
  }
}
