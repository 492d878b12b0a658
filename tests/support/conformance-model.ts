import { deepStrictEqual, ok, strictEqual } from 'node:assert/strict'
import type { LampId, NoteId } from '../../src/domain/ids.ts'
import type { Intent } from '../../src/domain/intent.ts'
import type { Note, PartEvent } from '../../src/domain/part-event.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { AnyStrategy, LampView, StrategyStep } from '../../src/strategies/strategy.ts'
import type { BeatClock } from '../../src/time/beat-clock.ts'
import { atTempo } from '../../src/time/beat-clock.ts'
import { deepFreeze } from './deep-freeze.ts'
import type { ScriptLine } from './strategy-script.ts'

/** Wakes without anything happening in between after which a strategy counts as one that never rests. */
const RESTLESS = 20_000

/** Plays a script to a strategy, keeps its own books of the lamps, and holds the strategy to the rules that all of them share. */
export class ConformanceModel {
  readonly #strategy: AnyStrategy
  readonly #lamps: readonly LampId[]
  /** What sounds on a lamp that is taken ends there. */
  readonly #ends: boolean
  #state: unknown
  #now: Micros = 0
  #tempo = 120
  #time: BeatClock = { at: 0, beats: 0, tempo: 120 }
  #wakeAt: Micros | undefined
  #nextId = 1
  /** Notes not ended, in the order they were struck. */
  readonly #alive: { note: Note; released: boolean }[] = []
  readonly #ended: NoteId[] = []
  /** Per lamp of this part that is lit: its note. */
  readonly #lit = new Map<number, NoteId>()
  readonly #stolen = new Set<NoteId>()
  readonly #taken = new Set<number>()
  /** Lamps that refuse; true: another part that waits for the lamp does not get it either, and it is offered back at once. */
  readonly #refusing = new Map<number, boolean>()
  readonly #toTell: PartEvent[] = []

  /** It may play on by itself once its notes have ended. */
  readonly #runsOn: boolean

  /** `options`: what the strategy starts with. */
  constructor(strategy: AnyStrategy, options: unknown, lamps: readonly LampId[], ends = false) {
    this.#strategy = strategy
    this.#runsOn = strategy.runsOn?.(options) ?? false
    this.#wakeAt = strategy.wakesFirst?.(options) ? 0 : undefined
    this.#lamps = lamps
    this.#ends = ends
    this.#state = deepFreeze(strategy.start(deepFreeze(options), deepFreeze(lamps)))
    deepStrictEqual(roundTrip(this.#state), this.#state)
  }

  perform(line: ScriptLine): void {
    switch (line.do) {
      case 'strike': {
        const { key, velocity, duty } = line
        const note = { id: this.#nextId++, key, channel: 1, velocity, ...(duty ? { duty: 0.25 } : {}) }
        this.#alive.push({ note, released: false })
        return this.#tell({ kind: 'note-on', note })
      }
      case 'end': {
        const [one] = this.#alive.splice(line.pick % Math.max(1, this.#alive.length), 1)
        return one && this.#end(one.note.id)
      }
      case 'end-again': {
        const id = this.#ended[line.pick % Math.max(1, this.#ended.length)]
        return id === undefined ? undefined : this.#tell({ kind: 'note-off', id })
      }
      case 'release': {
        const one = this.#alive[line.pick % Math.max(1, this.#alive.length)]
        if (!one || one.released) return
        one.released = true
        return this.#tell({ kind: 'note-release', id: one.note.id })
      }
      case 'rekey': {
        const one = this.#alive[line.pick % Math.max(1, this.#alive.length)]
        if (!one) return
        one.note = { ...one.note, key: one.note.key + (line.up ? 12 : -12) }
        return this.#tell({ kind: 'note-rekey', id: one.note.id, key: one.note.key })
      }
      case 'all-off':
        return this.allOff()
      case 'take':
      case 'take-quietly': {
        const lamp = line.lamp % this.#lamps.length
        this.#taken.add(lamp)
        if (!this.#lit.delete(lamp)) return
        this.#toTell.push({ kind: 'lost', lamp: this.#lamps[lamp] ?? '', ends: this.#ends })
        return line.do === 'take' ? this.#drain() : undefined
      }
      case 'give-back':
      case 'offer': {
        const lamp = line.lamp % this.#lamps.length
        if (line.do === 'give-back') this.#taken.delete(lamp)
        if (!this.#taken.has(lamp)) this.#toTell.push({ kind: 'gained', lamp: this.#lamps[lamp] ?? '' })
        return this.#drain()
      }
      case 'refusing': {
        const lamp = line.lamp % this.#lamps.length
        if (line.on) this.#refusing.set(lamp, line.offers)
        else this.#refusing.delete(lamp)
        return
      }
      case 'tempo':
        this.#tempo = line.tempo
        this.#time = atTempo(this.#time, line.tempo, this.#now)
        return this.#tell({ kind: 'tempo' })
      case 'wait':
        return this.#wait(line.micros)
    }
  }

  /** Everything ends: no lamp lit and nothing to be woken for, at once. */
  allOff(): void {
    this.#ended.push(...this.#alive.map(({ note }) => note.id))
    this.#alive.length = 0
    this.#tell({ kind: 'all-off' })
    deepStrictEqual([...this.#lit], [], 'lamps lit after all-off')
    strictEqual(this.#wakeAt, undefined, 'a wake wanted after all-off')
  }

  /** Every note ends one by one; what is still to come comes; then every lamp is dark. What runs on by itself rests with all-off. */
  endAll(): void {
    for (const { note } of this.#alive.splice(0)) this.#end(note.id)
    if (this.#runsOn) {
      this.#wait(1_000_000)
      return this.allOff()
    }
    this.#rest()
    deepStrictEqual([...this.#lit], [], 'lamps lit after every note ended')
  }

  #end(id: NoteId): void {
    this.#ended.push(id)
    const isRobbed = this.#stolen.has(id) && ![...this.#lit.values()].includes(id)
    const before = new Map(this.#lit)
    this.#tell({ kind: 'note-off', id })
    if (!isRobbed) return
    for (const [lamp, note] of before) {
      ok(
        this.#lit.has(lamp) || this.#taken.has(lamp),
        `note ${id}, robbed before, ended and darkened lamp ${lamp}, which note ${note} has`,
      )
    }
  }

  #wait(micros: Micros): void {
    const until = this.#now + micros
    for (let wakes = 0; this.#wakeAt !== undefined && this.#wakeAt <= until; wakes++) {
      if (wakes > RESTLESS) throw new Error(`more than ${RESTLESS} wakes in ${micros} microseconds`)
      this.#wake(this.#wakeAt)
    }
    this.#now = until
  }

  #rest(): void {
    for (let wakes = 0; this.#wakeAt !== undefined; wakes++) {
      if (wakes > RESTLESS) throw new Error('wakes without end after every note ended')
      this.#wake(this.#wakeAt)
    }
  }

  #wake(at: Micros): void {
    this.#now = at
    this.#wakeAt = undefined
    this.#tell({ kind: 'wake' })
  }

  /** What was raised before and not told yet comes after it: a part plays on before it hears that a lamp is gone. */
  #tell(event: PartEvent): void {
    this.#toTell.unshift(event)
    this.#drain()
  }

  /** Tells what is to be told, and what follows from it. */
  #drain(): void {
    const limit =
      this.#toTell.length + 8 * (this.#lamps.length + 1) * (this.#alive.length + this.#ended.length + 1)
    for (let told = 0; this.#toTell.length > 0; told++) {
      if (told > limit)
        throw new Error(`after ${limit} answers at one moment it still asks for lamps it is refused`)
      this.#step(this.#toTell.shift() as PartEvent)
    }
  }

  #step(event: PartEvent): void {
    const step = this.#strategy.step(this.#state, deepFreeze(event), this.#view(), this.#now)
    const again = this.#strategy.step(roundTrip(this.#state), event, this.#view(), this.#now)
    // Without a message of our own, so that the difference is shown.
    deepStrictEqual(again, step)
    deepStrictEqual(roundTrip(step.state), step.state)
    this.#state = deepFreeze(step.state)
    this.#keepTime(step)
    if (event.kind === 'lost' && event.ends)
      ok(!step.intents.some(({ kind }) => kind === 'light'), 'what ended with its lamp was lit elsewhere')
    for (const intent of step.intents) this.#carryOut(intent)
  }

  #keepTime({ wake }: StrategyStep<unknown>): void {
    if (wake !== undefined && !(Number.isSafeInteger(wake) && wake > this.#now)) {
      throw new Error(`at ${this.#now} it asks to be woken at ${wake}`)
    }
    this.#wakeAt = wake
  }

  #carryOut(intent: Intent): void {
    const lamp = this.#lamps.indexOf(intent.lamp)
    if (lamp < 0) throw new Error(`lamp "${intent.lamp}" is not the part's`)
    if (intent.kind === 'dark') {
      this.#lit.delete(lamp)
      return
    }
    const { voice, stole } = intent
    if (this.#taken.has(lamp)) throw new Error(`lights lamp ${lamp}, which another part has`)
    // Nobody's note, 0, is only for what begins by itself.
    const least = this.#strategy.wakesFirst ? 0 : 1
    if (!(voice.note >= least && voice.note < this.#nextId)) throw new Error(`no such note: ${voice.note}`)
    if (!(voice.ratio > 0 && Number.isFinite(voice.ratio + voice.cents))) throw new Error('no pitch')
    if (stole !== undefined) {
      strictEqual(this.#lit.get(lamp), stole, `what note ${voice.note} says it stole lamp ${lamp} from`)
      this.#stolen.add(stole)
    }
    const offers = this.#refusing.get(lamp)
    if (offers === undefined) {
      this.#lit.set(lamp, voice.note)
      return
    }
    this.#lit.delete(lamp)
    this.#toTell.push({ kind: 'refused', lamp: intent.lamp, id: voice.note, reason: 'supply' })
    if (offers) this.#toTell.push({ kind: 'gained', lamp: intent.lamp })
  }

  #view(): LampView {
    const taken = this.#taken
    return {
      lamps: this.#lamps,
      tempo: this.#tempo,
      time: this.#time,
      usable: (index) => index >= 0 && index < this.#lamps.length && !taken.has(index),
    }
  }
}

function roundTrip(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value))
}
