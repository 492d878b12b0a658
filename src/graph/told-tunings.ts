import { Subject } from 'rxjs'
import type { OutputId, TuningId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { MtsOut, Output } from '../domain/rig.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import { tellTuning } from '../midi/mts-tell.ts'
import type { MtsOutIn } from '../outputs/mts-out.ts'
import { mtsOut } from '../outputs/mts-out.ts'
import { tuningTable } from '../tuning/tuning.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'

/** The tuning of the song that plays, by the id that the song has it by. */
export interface SongTuning {
  readonly id: TuningId
  readonly tuning: KeyTuning
}

interface Listener {
  readonly to: MtsOut
  readonly events: Subject<MtsOutIn>
}

/** Tells MIDI outputs that want it the tuning of the song that plays; what is to be sent waits until the lamps' changes of its moment have gone. */
export class ToldTunings {
  readonly #listeners = new Map<OutputId, Listener>()
  readonly #send: (output: OutputId, message: MidiMessage) => void
  #told: SongTuning | undefined
  #waiting: { readonly output: OutputId; readonly message: MidiMessage }[] = []

  constructor(
    outputs: readonly Output[],
    house: House,
    send: (output: OutputId, message: MidiMessage) => void,
  ) {
    this.#send = send
    for (const output of outputs) {
      if (output.kind === 'midi' && output.mts) this.#listen(output.id, output.mts, house)
    }
  }

  /** The song plays in it; the same one may be told again and again. */
  tell(given: () => SongTuning): void {
    if (this.#listeners.size === 0) return
    const { id, tuning } = given()
    if (id === this.#told?.id && tuning === this.#told.tuning) return
    this.#told = { id, tuning }
    const told = { name: id, hz: tuningTable(tuning) }
    for (const { to, events } of this.#listeners.values())
      events.next({ kind: 'tell', ...tellTuning(to, told) })
  }

  /** An output's port is open, for the first time or again; all of them, where none is named. */
  open(output?: OutputId): void {
    for (const [id, { events }] of this.#listeners)
      if (output === undefined || id === output) events.next({ kind: 'open' })
  }

  close(): void {
    for (const { events } of this.#listeners.values()) events.next({ kind: 'close' })
  }

  /** What the moment has brought is sent. */
  flush(): void {
    if (this.#waiting.length === 0) return
    const waiting = this.#waiting
    this.#waiting = []
    for (const { output, message } of waiting) this.#send(output, message)
  }

  #listen(output: OutputId, to: MtsOut, house: House): void {
    const events = new Subject<MtsOutIn>()
    const name = `output ${output}: tuning`
    const stage = lift(name, mtsOut, undefined, house.agenda, (error) => house.fault(name, error))
    house.own(
      events.pipe(stage.operator()).subscribe((out) => {
        if (out.kind === 'message') this.#waiting.push({ output, message: out.message })
        else {
          const tuning = this.#told?.id ?? ''
          const message = `tuning ${tuning} is not told to it: ${out.why}`
          house.report({ level: 'warning', source: `output ${output}`, code: 'tuning-untold', message })
        }
      }),
    )
    this.#listeners.set(output, { to, events })
  }
}
