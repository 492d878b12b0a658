import { Subject } from 'rxjs'
import type { PlayerId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Player } from '../domain/player.ts'
import type { Control } from '../domain/switching.ts'
import type { ControlsIn, DoneAct } from '../players/controls.ts'
import { controls as controlsStage } from '../players/controls.ts'
import type { House } from './house.ts'
import type { Heard, Ordered } from './input-order.ts'
import { offsFirst } from './input-order.ts'
import { lift } from './lift.ts'

/** What came in at one moment: what is played, in order, and what players did to change songs or to darken. */
export interface Moments extends Ordered {
  readonly acts: readonly DoneAct[]
}

const NOTHING: Moments = { offs: [], rest: [], acts: [] }

/** What has been decoded and waits for its moment to close; then controls are taken out of it, before anybody else hears of them. */
export class Inbox {
  readonly #house: House
  readonly #controls: ReadonlyMap<PlayerId, Subject<ControlsIn>>
  #heard: Heard[]
  #passed: Heard[] = []
  #acts: DoneAct[] = []

  constructor(
    players: readonly Player[],
    controls: readonly Control[],
    heard: readonly Heard[],
    house: House,
  ) {
    this.#house = house
    this.#heard = [...heard]
    this.#controls = new Map(players.map((player) => [player.id, this.#connect(player, controls)]))
  }

  get waiting(): readonly Heard[] {
    return this.#heard
  }

  put(player: PlayerId, message: MidiMessage): void {
    this.#house.tap({ kind: 'heard', at: this.#house.agenda.now, player, message })
    this.#heard.push({ player, message })
  }

  /** All there is, which is then no longer here. */
  take(): Moments {
    if (this.#heard.length === 0) return NOTHING
    const heard = this.#heard
    this.#heard = []
    for (const { player, message } of heard) this.#controls.get(player)?.next(message)
    const passed = this.#passed
    const acts = this.#acts
    this.#passed = []
    this.#acts = []
    return { ...offsFirst(passed), acts }
  }

  /** A player is gone: nothing of it is down any more. */
  forget(player: PlayerId): void {
    this.#controls.get(player)?.next({ kind: 'all-off' })
  }

  /** The show's controls are these from now on. */
  revise(controls: readonly Control[]): void {
    for (const player of this.#controls.values()) player.next({ kind: 'controls', controls })
  }

  #connect(player: Player, controls: readonly Control[]): Subject<ControlsIn> {
    const { agenda } = this.#house
    const source = new Subject<ControlsIn>()
    const name = `player ${player.id}: controls`
    const stage = lift(name, controlsStage, { player, controls }, agenda, (error, event) => {
      this.#house.fault(name, error)
      if ('type' in event) this.#passed.push({ player: player.id, message: event })
    })
    this.#house.own(
      source.pipe(stage.operator()).subscribe((out) => {
        const { message } = out
        if (out.kind === 'pass') this.#passed.push({ player: player.id, message })
        else {
          this.#acts.push(out.act)
          this.#house.tap({ kind: 'control', at: agenda.now, player: player.id, act: out.act, message })
        }
      }),
    )
    return source
  }
}
