import { Subject } from 'rxjs'
import type { PlayerId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Show } from '../domain/show.ts'
import type { TableTuning } from '../domain/tuning-spec.ts'
import type { HeardTuning, MtsKeyboardIn } from '../midi/mts-keyboard.ts'
import { mtsKeyboard } from '../midi/mts-keyboard.ts'
import { knownTuning, tuningTable } from '../tuning/tuning.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'

/** What players' instruments tell of their tuning becomes the tunings that the show receives from them. */
export class HeardTunings {
  readonly #byPlayer = new Map<PlayerId, Subject<MtsKeyboardIn>>()

  constructor(show: Show, house: House, received: (tuning: TableTuning, retune: boolean) => void) {
    for (const { id, input } of show.players) {
      const source = new Subject<MtsKeyboardIn>()
      const name = `player ${id}: tuning`
      const config = { channels: input.channels, tunings: heardFrom(show, id) }
      const stage = lift(name, mtsKeyboard, config, house.agenda, (error) => house.fault(name, error))
      house.own(
        source.pipe(stage.operator()).subscribe((out) => {
          if (out.kind === 'tuned') return received(out.tuning, out.retune)
          const message = `a message of the MIDI Tuning Standard was passed over: ${out.why}`
          house.report({ level: 'warning', source: `player ${id}`, code: 'tuning-message', message })
        }),
      )
      this.#byPlayer.set(id, source)
    }
  }

  /** A message whose turn has come. */
  tell(player: PlayerId, message: MidiMessage): void {
    this.#byPlayer.get(player)?.next(message)
  }

  /** The show was edited: its tunings may be others, and their bases. */
  revise(show: Show): void {
    for (const [player, source] of this.#byPlayer)
      source.next({ kind: 'tunings', tunings: heardFrom(show, player) })
  }
}

function heardFrom({ tunings }: Show, player: PlayerId): HeardTuning[] {
  return tunings.flatMap((tuning): HeardTuning[] => {
    if (tuning.kind !== 'received' || tuning.player !== player) return []
    const base = knownTuning(tunings, tuning.id)
    if (!base) return []
    const { id, program, bank = 0 } = tuning
    return [{ id, program, bank, base: tuningTable(base).map((hz) => hz ?? null) }]
  })
}
