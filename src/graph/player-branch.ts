import type { Observable } from 'rxjs'
import { merge, share, Subject } from 'rxjs'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Player } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import { decode } from '../midi/decode.ts'
import { parameters } from '../midi/parameters.ts'
import { conditionerFor } from '../players/conditioner.ts'
import type { PlayerIn } from '../players/player-in.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'

/** A player's way from bytes to what the player did. */
export interface PlayerBranch {
  /** Bytes as the port gave them; the messages in them go to `heard`. */
  readonly bytes: Subject<Uint8Array | readonly number[]>
  /** Messages whose turn has come. */
  readonly messages: Subject<PlayerIn>
  readonly events$: Observable<PlayerEvent>
}

export function playerBranch(
  player: Player,
  house: House,
  heard: (message: MidiMessage) => void,
): PlayerBranch {
  const bytes = new Subject<Uint8Array | readonly number[]>()
  const messages = new Subject<PlayerIn>()
  const decoded = new Subject<MidiMessage>()
  const name = `player ${player.id}`
  const { agenda } = house

  const decoder = lift(`${name}: decode`, decode, undefined, agenda, (error) => house.fault(name, error))
  house.own(
    bytes.pipe(decoder.operator()).subscribe((out) => {
      if (out.type === 'malformed') {
        const message = `${out.why} (${out.count} ${out.count === 1 ? 'byte' : 'bytes'} lost)`
        house.report({ level: 'warning', source: name, code: 'malformed', message })
      } else decoded.next(out)
    }),
  )
  const parameter = lift(`${name}: parameters`, parameters, undefined, agenda, (error) =>
    house.fault(name, error),
  )
  house.own(decoded.pipe(parameter.operator()).subscribe(heard))

  /** Where even the end of all notes fails, the parts hear of it all the same. */
  const forced = new Subject<PlayerEvent>()
  const conditioner = lift(`${name}: condition`, conditionerFor(player), player, agenda, (error, event) => {
    house.fault(name, error)
    if ('kind' in event && event.kind === 'all-off') {
      conditioner.restart()
      forced.next({ kind: 'all-off' })
    } else agenda.post(() => messages.next({ kind: 'all-off' }))
  })
  const events$ = merge(messages.pipe(conditioner.operator()), forced).pipe(share())
  house.own(
    events$.subscribe((event) => house.tap({ kind: 'player', at: agenda.now, player: player.id, event })),
  )
  return { bytes, messages, events$ }
}
