import type { LampId } from '../../src/domain/ids.ts'
import type { Voice } from '../../src/domain/intent.ts'
import type { PartEvent } from '../../src/domain/part-event.ts'
import type { Key, Micros } from '../../src/domain/units.ts'
import { strategies } from '../../src/strategies/registry.ts'
import type { AnyStrategy, StepProgress, StrategyStep } from '../../src/strategies/strategy.ts'
import type { BeatClock } from '../../src/time/beat-clock.ts'
import { atTempo } from '../../src/time/beat-clock.ts'
import { readyPatterns } from './ready-patterns.ts'
import type { RawShow } from './shows.ts'

/** A lamp was lit (`voice`) or went dark (null). */
export interface LightMoment {
  readonly at: Micros
  readonly lamp: LampId
  readonly voice: Voice | null
  readonly strike: boolean
}

export interface StageSettings {
  readonly strategy: string
  /** Without defaults: the strategy's schema fills them in. */
  readonly options: Readonly<Record<string, unknown>>
  readonly lamps: readonly LampId[]
  readonly tempo: number
  /** The song's, as they stand in a file, for a strategy that plays patterns; `part`: fields of its part. */
  readonly patterns?: RawShow[] | undefined
  readonly part?: RawShow | undefined
  /** Lamps that refuse keys above this one as out of their range. */
  readonly highestKey?: Readonly<Record<LampId, Key>>
}

/** Tries of one moment after which a strategy counts as one that never ends. */
const ENDLESS = 10_000

/** One part's lamps for a strategy to play on: keeps its time, wakes it exactly when it asked, takes lamps from it and refuses it some. */
export class StrategyStage {
  readonly moments: LightMoment[] = []
  now: Micros = 0
  tempo: number
  #time: BeatClock
  readonly #strategy: AnyStrategy
  readonly #lamps: readonly LampId[]
  readonly #lit = new Set<LampId>()
  readonly #blocked = new Set<LampId>()
  readonly #refusing = new Set<LampId>()
  readonly #highestKey: Readonly<Record<LampId, Key>>
  #state: unknown
  #wakeAt: Micros | undefined

  constructor({ strategy, options, lamps, tempo, patterns, part, highestKey }: StageSettings) {
    const found = strategies.find(({ kind }) => kind === strategy)
    if (!found) throw new Error(`no strategy "${strategy}" in the registry`)
    const chosen = found.options.parse(options)
    const faults = found.check?.(chosen, lamps) ?? []
    if (faults.length > 0) throw new Error(faults.map(({ message }) => message).join('; '))
    this.#strategy = found
    this.#lamps = lamps
    this.#highestKey = highestKey ?? {}
    const ready = patterns ? readyPatterns(found, options as RawShow, lamps, patterns, part) : chosen
    this.#state = found.start(ready, lamps)
    this.#wakeAt = found.wakesFirst?.(ready) ? 0 : undefined
    this.tempo = tempo
    this.#time = { at: 0, beats: 0, tempo }
  }

  /** Goes to `until`, with every wake up to and including it on the way. */
  advance(until: Micros): void {
    while (this.#wakeAt !== undefined && this.#wakeAt <= until) {
      this.now = this.#wakeAt
      this.#wakeAt = undefined
      this.play({ kind: 'wake' })
    }
    this.now = until
  }

  /** Where its pattern is. */
  get progress(): StepProgress | undefined {
    return this.#strategy.progress?.(this.#state)
  }

  /** One event, and the refusals it leads to. */
  play(event: PartEvent): void {
    const waiting: PartEvent[] = [event]
    for (let next = 0; next < waiting.length; next++) {
      if (next > ENDLESS) throw new Error(`"${this.#strategy.kind}" keeps asking for lamps it is refused`)
      this.#step(waiting[next] as PartEvent, waiting)
    }
  }

  /** Another part takes the lamp; `ends`: what sounds on it ends there. */
  block(lamp: LampId, ends = false): void {
    this.#blocked.add(lamp)
    if (!this.#lit.has(lamp)) return
    this.#darken(lamp)
    this.play({ kind: 'lost', lamp, ends })
  }

  /** The other part gives the lamp back. */
  free(lamp: LampId): void {
    this.#blocked.delete(lamp)
    this.play({ kind: 'gained', lamp })
  }

  setRefusing(lamp: LampId, on: boolean): void {
    if (on) this.#refusing.add(lamp)
    else this.#refusing.delete(lamp)
  }

  setTempo(tempo: number): void {
    this.tempo = tempo
    this.#time = atTempo(this.#time, tempo, this.now)
    this.play({ kind: 'tempo' })
  }

  #step(event: PartEvent, waiting: PartEvent[]): void {
    const view = {
      lamps: this.#lamps,
      tempo: this.tempo,
      time: this.#time,
      usable: (index: number) => {
        const lamp = this.#lamps[index]
        return lamp !== undefined && !this.#blocked.has(lamp)
      },
    }
    const step: StrategyStep<unknown> = this.#strategy.step(this.#state, event, view, this.now)
    if (step.wake !== undefined && step.wake <= this.now) {
      throw new Error(`"${this.#strategy.kind}" asks at ${this.now} to be woken at ${step.wake}`)
    }
    this.#state = step.state
    this.#wakeAt = step.wake
    for (const intent of step.intents) {
      const { lamp } = intent
      if (intent.kind === 'dark') this.#darken(lamp)
      else if (this.#blocked.has(lamp))
        throw new Error(`"${this.#strategy.kind}" lights lamp "${lamp}", another part's`)
      else if (this.#refusing.has(lamp)) {
        this.#darken(lamp)
        waiting.push({ kind: 'refused', lamp, id: intent.voice.note, reason: 'supply' })
      } else if (intent.voice.key > (this.#highestKey[lamp] ?? Infinity)) {
        this.#darken(lamp)
        waiting.push({ kind: 'refused', lamp, id: intent.voice.note, reason: 'range' })
      } else {
        this.#lit.add(lamp)
        this.moments.push({ at: this.now, lamp, voice: intent.voice, strike: intent.strike })
      }
    }
  }

  #darken(lamp: LampId): void {
    if (this.#lit.delete(lamp)) this.moments.push({ at: this.now, lamp, voice: null, strike: false })
  }
}
