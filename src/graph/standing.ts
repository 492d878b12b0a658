import type { NoteId, PlayerId } from '../domain/ids.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Channel } from '../domain/units.ts'
import type { Agenda, Cell, SavedCell } from './agenda.ts'

type NoteOn = Extract<PlayerEvent, { kind: 'note-on' }>
type Turned = Extract<PlayerEvent, { kind: 'controller' }>
type Bent = Extract<PlayerEvent, { kind: 'bend' }>

/** A note that the song was given and that has not ended. */
export interface HeldNote {
  readonly player: PlayerId
  readonly on: NoteOn
  readonly isReleased: boolean
}

interface Saved {
  readonly notes: readonly HeldNote[]
  readonly bends: readonly (readonly [PlayerId, readonly Bent[]])[]
  readonly controllers: readonly (readonly [PlayerId, readonly Turned[]])[]
}

/** How players stand: notes that the song has of them, in the order they were struck, bends, controllers. A song that begins is told of it. */
export class Standing implements Cell {
  readonly name = 'standing'
  readonly wakeAt = Infinity
  #notes: HeldNote[] = []
  readonly #bends = new Map<PlayerId, Map<Channel, Bent>>()
  /** The last value of each controller, whatever its channel. */
  readonly #controllers = new Map<PlayerId, Map<number, Turned>>()

  constructor(agenda: Agenda) {
    const saved = agenda.saved(this.name)?.state as Saved | undefined
    if (saved) {
      this.#notes = [...saved.notes]
      for (const [player, bends] of saved.bends)
        this.#bends.set(player, new Map(bends.map((bent) => [bent.channel, bent])))
      for (const [player, turned] of saved.controllers)
        this.#controllers.set(player, new Map(turned.map((one) => [one.controller, one])))
    }
    agenda.add(this)
  }

  get notes(): readonly HeldNote[] {
    return this.#notes
  }

  /** Bends that are not centred. */
  bends(player: PlayerId): Iterable<PlayerEvent> {
    return this.#bends.get(player)?.values() ?? []
  }

  controller(player: PlayerId, controller: number): PlayerEvent | undefined {
    return this.#controllers.get(player)?.get(controller)
  }

  heard(player: PlayerId, event: PlayerEvent): void {
    switch (event.kind) {
      case 'note-on':
        this.#notes.push({ player, on: event, isReleased: false })
        return
      case 'note-off':
        return this.end(player, event.note)
      case 'note-release':
        return this.#change(player, event.note, (held) => ({ ...held, isReleased: true }))
      case 'note-rekey':
        return this.#change(player, event.note, (held) => ({ ...held, on: { ...held.on, key: event.key } }))
      case 'all-off':
        this.#notes = this.#notes.filter((held) => held.player !== player)
        return
      case 'bend': {
        const bends = mapOf(this.#bends, player)
        if (event.cents === 0) bends.delete(event.channel)
        else bends.set(event.channel, event)
        return
      }
      case 'controller':
        mapOf(this.#controllers, player).set(event.controller, event)
        return
      case 'joined':
      case 'dropped':
    }
  }

  /** The song has this note no more. */
  end(player: PlayerId, note: NoteId): void {
    const place = this.#notes.findIndex((held) => held.player === player && held.on.note === note)
    if (place >= 0) this.#notes.splice(place, 1)
  }

  /** The song has no note any more. */
  endAll(): void {
    this.#notes = []
  }

  wake(): void {}

  save(): SavedCell {
    const state: Saved = {
      notes: [...this.#notes],
      bends: [...this.#bends].map(([player, bends]) => [player, [...bends.values()]]),
      controllers: [...this.#controllers].map(([player, turned]) => [player, [...turned.values()]]),
    }
    return { state, wakeAt: null }
  }

  #change(player: PlayerId, note: NoteId, change: (held: HeldNote) => HeldNote): void {
    const place = this.#notes.findIndex((held) => held.player === player && held.on.note === note)
    const held = this.#notes[place]
    if (held) this.#notes[place] = change(held)
  }
}

function mapOf<Key, Value>(maps: Map<PlayerId, Map<Key, Value>>, player: PlayerId): Map<Key, Value> {
  const known = maps.get(player) ?? new Map<Key, Value>()
  maps.set(player, known)
  return known
}
