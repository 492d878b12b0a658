import type { OperatorFunction } from 'rxjs'
import { Observable } from 'rxjs'
import type { Stage, Step } from '../domain/stage.ts'
import { WAKE } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import type { Cell, CellPlace, SavedCell } from './agenda.ts'

/** Called when a stage threw on an event; its state is what it was before. */
export type OnFault<In> = (error: unknown, event: In) => void

/** A stage at work: one state, one wake, one RxJS operator. */
export class Lifted<State, In, Out> implements Cell {
  readonly name: string
  wakeAt: Micros = Infinity
  readonly #step: (state: State, event: In, now: Micros) => Step<State, Out>
  readonly #start: () => State
  readonly #agenda: CellPlace
  readonly #onFault: OnFault<In>
  #state: State
  #emit: (out: Out) => void = () => {}

  constructor(
    name: string,
    start: () => State,
    step: (state: State, event: In, now: Micros) => Step<State, Out>,
    agenda: CellPlace,
    onFault: OnFault<In>,
    /** It wants a wake as soon as it is at work. */
    wakesFirst = false,
  ) {
    this.name = name
    this.#start = start
    this.#step = step
    this.#agenda = agenda
    this.#onFault = onFault
    const saved = agenda.saved(name)
    this.#state = saved ? (saved.state as State) : start()
    const first = wakesFirst ? agenda.now : Infinity
    this.wakeAt = saved ? (saved.wakeAt ?? Infinity) : first
  }

  get state(): State {
    return this.#state
  }

  /** Begins anew, forgetting everything. */
  restart(): void {
    this.#state = this.#start()
    this.wakeAt = Infinity
  }

  /** The stage as an operator; may be subscribed once at a time. */
  operator(): OperatorFunction<In, Out> {
    return (source) =>
      new Observable((subscriber) => {
        this.#emit = (out) => subscriber.next(out)
        this.#agenda.add(this)
        const subscription = source.subscribe({
          next: (event) => this.#run(event),
          error: (error: unknown) => subscriber.error(error),
          complete: () => subscriber.complete(),
        })
        return () => {
          subscription.unsubscribe()
          this.#agenda.remove(this)
        }
      })
  }

  wake(): void {
    this.wakeAt = Infinity
    this.#run(WAKE as In)
  }

  /** A step that no event makes, as when what it goes by has changed. Where it throws, nothing has changed. */
  alter(step: (state: State, now: Micros) => Step<State, Out>): void {
    this.#take(() => step(this.#state, this.#agenda.now), WAKE as In)
  }

  save(): SavedCell {
    return { state: this.#state, wakeAt: this.wakeAt === Infinity ? null : this.wakeAt }
  }

  #run(event: In): void {
    this.#take(() => this.#step(this.#state, event, this.#agenda.now), event)
  }

  #take(make: () => Step<State, Out>, event: In): void {
    const now = this.#agenda.now
    let step: Step<State, Out>
    try {
      step = make()
    } catch (error) {
      // A wake that throws would come again for ever.
      if (this.wakeAt <= now) this.wakeAt = Infinity
      this.#onFault(error, event)
      return
    }
    this.#state = step.state
    this.wakeAt = step.wake === undefined ? Infinity : Math.max(step.wake, now + 1)
    for (const out of step.out) this.#emit(out)
  }
}

/** Lifts a stage with its configuration. */
export function lift<Config, State, In, Out>(
  name: string,
  stage: Stage<Config, State, In, Out>,
  config: Config,
  agenda: CellPlace,
  onFault: OnFault<In>,
): Lifted<State, In, Out> {
  return new Lifted(
    name,
    () => stage.start(config),
    (state, event, now) => stage.step(state, event, now),
    agenda,
    onFault,
  )
}
