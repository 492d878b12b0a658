import type { PlayerActivity } from '../../src/contract/from-engine.ts'
import type { NoteId, PlayerId } from '../../src/domain/ids.ts'
import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Player } from '../../src/domain/player.ts'
import type { DropReason, PlayerEvent } from '../../src/domain/player-event.ts'
import type { Channel, Key, Micros, Velocity } from '../../src/domain/units.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { HitHistory } from './hit-history.ts'

interface HeldKey {
  readonly key: Key
  readonly velocity: Velocity
  readonly pedalled: boolean
}

/** What one player is doing, as its messages and notes tell. */
class OneActivity {
  readonly #player: PlayerId
  readonly #channels: readonly Channel[]
  readonly #keys = new Map<NoteId, HeldKey>()
  #bendCents = 0
  #heardAt: Micros | null = null
  #notes = 0
  readonly #drops: Record<DropReason, number> = { floor: 0, mask: 0, crosstalk: 0, ghost: 0 }
  /** Only of pads. */
  readonly #hits: HitHistory | undefined
  readonly #heldBack = { count: 0, sum: 0, max: 0 }

  constructor({ id, kind, input }: Player) {
    this.#player = id
    this.#channels = input.channels
    this.#hits = kind === 'pads' ? new HitHistory() : undefined
  }

  /** True where it is something to tell. Clock and sensing are heard and not told: they never end. */
  heard(message: MidiMessage, at: Micros): boolean {
    if ('channel' in message && !this.#channels.includes(message.channel)) return false
    this.#heardAt = at
    return message.type !== 'clock' && message.type !== 'active-sensing'
  }

  /** True where it is something to tell. */
  did(event: PlayerEvent, at: Micros): boolean {
    this.#hits?.did(event, at)
    switch (event.kind) {
      case 'note-on':
        this.#notes++
        this.#keptBack(event.heldBack)
        this.#keys.set(event.note, { key: event.key, velocity: event.velocity, pedalled: false })
        return true
      case 'note-release':
        return this.#change(event.note, { pedalled: true })
      case 'note-rekey':
        // A legato note is one that was played, though nothing was struck.
        if (event.legato) this.#notes++
        this.#keptBack(event.heldBack)
        return this.#change(event.note, { key: event.key })
      case 'note-off':
        return this.#keys.delete(event.note)
      case 'all-off': {
        const wereHeld = this.#keys.size > 0
        this.#keys.clear()
        return wereHeld
      }
      case 'bend': {
        const isNew = event.cents !== this.#bendCents
        this.#bendCents = event.cents
        return isNew
      }
      case 'dropped':
        this.#drops[event.why]++
        return true
      case 'joined':
      case 'controller':
        return false
    }
  }

  #keptBack(by: Micros | undefined): void {
    if (by === undefined) return
    const all = this.#heldBack
    all.count++
    all.sum += by
    all.max = Math.max(all.max, by)
  }

  now(): PlayerActivity {
    const drops = { ...this.#drops }
    const { count, sum, max } = this.#heldBack
    return {
      player: this.#player,
      keys: [...this.#keys.values()].sort((a, b) => a.key - b.key),
      bendCents: this.#bendCents,
      heardAt: this.#heardAt,
      notes: this.#notes,
      dropped: Object.values(drops).reduce((sum, count) => sum + count, 0),
      drops,
      ...(count > 0 ? { heldBack: { count, mean: sum / count, max } } : {}),
      ...(this.#hits ? { hits: this.#hits.recent() } : {}),
    }
  }

  #change(note: NoteId, change: Partial<HeldKey>): boolean {
    const held = this.#keys.get(note)
    if (held) this.#keys.set(note, { ...held, ...change })
    return held !== undefined
  }
}

/** What every player is doing, for screens, from what the tap says. */
export class PlayerActivities {
  readonly #players: ReadonlyMap<PlayerId, OneActivity>
  #isNew = true

  constructor(players: readonly Player[]) {
    this.#players = new Map(players.map((player) => [player.id, new OneActivity(player)]))
  }

  watch(event: TapEvent): void {
    if (event.kind !== 'heard' && event.kind !== 'player') return
    const player = this.#players.get(event.player)
    if (!player) return
    const isNew =
      event.kind === 'heard' ? player.heard(event.message, event.at) : player.did(event.event, event.at)
    this.#isNew ||= isNew
  }

  /** In the show's order; undefined where nothing changed since the last call. */
  news(): PlayerActivity[] | undefined {
    if (!this.#isNew) return undefined
    this.#isNew = false
    return [...this.#players.values()].map((player) => player.now())
  }
}
