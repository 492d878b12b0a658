import { Subject } from 'rxjs'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { OutputId, PlayerId } from '../domain/ids.ts'
import type { Thru } from '../domain/song.ts'
import type { ThruIn } from '../outputs/thru.ts'
import { thruStage } from '../outputs/thru.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'

/** What of players' messages goes past the lamps. */
export class Thrus {
  readonly #byPlayer = new Map<PlayerId, Subject<ThruIn>[]>()

  constructor(thrus: readonly Thru[], house: House, send: (to: OutputId, message: MidiMessage) => void) {
    thrus.forEach((thru, index) => {
      const source = new Subject<ThruIn>()
      const name = `thru ${index + 1}`
      const stage = lift(name, thruStage, thru, house.agenda, (error) => house.fault(name, error))
      house.own(source.pipe(stage.operator()).subscribe((message) => send(thru.to, message)))
      this.#byPlayer.set(thru.player, [...(this.#byPlayer.get(thru.player) ?? []), source])
    })
  }

  tell(player: PlayerId, message: ThruIn): void {
    for (const thru of this.#byPlayer.get(player) ?? []) thru.next(message)
  }
}
