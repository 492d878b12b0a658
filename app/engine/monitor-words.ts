import type { MonitorEvent } from '../../src/contract/from-engine.ts'
import type { OutputId, PlayerId } from '../../src/domain/ids.ts'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import type { RefusalReason } from '../../src/domain/part-event.ts'
import type { Player } from '../../src/domain/player.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import type { DecodeOut, DecoderState } from '../../src/midi/decode.ts'
import { decode } from '../../src/midi/decode.ts'
import { encode } from '../../src/midi/encode.ts'
import { playedKeyName } from '../../src/offline/check/key-spans.ts'
import { lampWords, settingWords } from './lamp-words.ts'
import { byteWords, messageWords } from './message-words.ts'
import { actWords, ENTER_AT, placeWords } from './song-words.ts'

/** Bytes as they came in at a port, and the players that listen there. */
export interface HeardBytes {
  readonly kind: 'in'
  readonly at: Micros
  readonly players: readonly PlayerId[]
  readonly bytes: Uint8Array
}

/** What is watched, as it was: nothing is copied and no word is made while an event is handled. */
export type Watched = HeardBytes | TapEvent

/** Whether it makes words: messages are told from their bytes, and what players did by what became of it. */
export function isTold(event: Watched): boolean {
  if (event.kind === 'player') return event.event.kind === 'dropped'
  return !['heard', 'finding', 'dark', 'step', 'time'].includes(event.kind)
}

type WatchedShow = Pick<Show, 'rig' | 'players'>

/** Before any show is played. */
export const NO_SHOW: WatchedShow = { rig: { supplies: [], outputs: [], lamps: [] }, players: [] }

interface LampPlace {
  readonly name: string
  /** The serial output it hangs on; MIDI outputs tell their messages themselves. */
  readonly wire: OutputId | undefined
}

/** Puts what was watched into words, with the names of one show. */
export class MonitorWords {
  readonly #show: WatchedShow
  readonly #lamps: ReadonlyMap<string, LampPlace>
  /** Long messages come in pieces, port by port; a port is told by the players that listen to it. */
  readonly #decoders = new Map<string, DecoderState>()

  constructor(show: WatchedShow) {
    this.#show = show
    const wires = new Set(show.rig.outputs.flatMap(({ id, kind }) => (kind === 'serial' ? [id] : [])))
    this.#lamps = new Map(
      show.rig.lamps.map(({ id, name, output }) => [
        id,
        { name, wire: wires.has(output) ? output : undefined },
      ]),
    )
  }

  /** How many events it makes, without making them; of bytes that came in, one. */
  countOf(event: Watched): number {
    if (event.kind === 'frame') return event.changes.length + this.#wires(event.changes).size
    return isTold(event) ? 1 : 0
  }

  of(event: Watched): MonitorEvent[] {
    const word = (source: string, text: string): MonitorEvent[] => [
      { at: event.at, way: 'word', source, text },
    ]
    switch (event.kind) {
      case 'in':
        return this.#heard(event)
      case 'bytes': {
        const { at, output, bytes, message } = event
        const text = message ? messageWords(message) : `${bytes.length} bytes`
        return [{ at, way: 'out', source: output, text, bytes: byteWords(bytes) }]
      }
      case 'frame':
        return this.#frame(event.at, event.changes)
      case 'steal':
        return word(event.part, 'a note gave up its lamp to a later one')
      case 'refused':
        return word(event.part, `${this.#name(event.lamp)} not lit: ${REFUSED[event.reason]}`)
      case 'shed':
        return word(event.supply, `${this.#name(event.lamp)} dark, for another lamp of its supply`)
      case 'held-down':
        return word('lamp heat', `${this.#name(event.lamp)} held to the power that it bears in the mean`)
      case 'folded': {
        const { from, to } = event
        const rates = `${from.toFixed(3)} to ${to.toFixed(3)} Hz`
        return word(event.part, `${this.#name(event.lamp)} moved from ${rates} by the flash guard`)
      }
      case 'tied':
        return word('flash guard', `${this.#name(event.lamp)} sounds on, tied`)
      case 'glowed':
        return word('flash guard', `${this.#name(event.lamp)} stays lit, above hearing`)
      case 'exceeded':
        return word(event.supply, `over its limit with ${this.#name(event.lamp)}`)
      case 'diagnostic': {
        const { level, source, message } = event.diagnostic
        return word(source, level === 'info' ? message : `${level}: ${message}`)
      }
      case 'player':
        return event.event.kind === 'dropped'
          ? word(event.player, droppedWords(event.event, this.#player(event.player)))
          : []
      case 'control':
        return word(event.player, `control: ${actWords(event.act)}`)
      case 'song':
        return word('switching', `${placeWords(event.place)} begins`)
      case 'coming': {
        const { place, enterAt } = event
        const text = place ? `${placeWords(place)} comes ${ENTER_AT[enterAt]}` : 'nothing comes any more'
        return word('switching', text)
      }
      case 'tuning':
        return word(
          'tuning',
          `${event.tuning ?? "the song's own"}${event.retune ? '' : ', for notes to come'}`,
        )
      // They are told by what lamps do: a lamp's light as any other, and the control that darkens.
      case 'step':
      case 'time':
      case 'dark':
      case 'finding':
      case 'heard':
        return []
    }
  }

  #heard({ at, players, bytes }: HeardBytes): MonitorEvent[] {
    const port = players.join('/')
    const { state, out } = decode.step(this.#decoders.get(port) ?? decode.start(), bytes, at)
    this.#decoders.set(port, state)
    const [only] = out
    if (only === undefined)
      return [
        {
          at,
          way: 'in',
          source: players[0] ?? '',
          text: 'part of a longer message',
          bytes: byteWords(bytes),
        },
      ]
    return out.flatMap((message) => {
      const raw = out.length === 1 || message.type === 'malformed' ? bytes : encode(message)
      return this.#listeners(players, message).map(({ source, aside }) => ({
        at,
        way: 'in' as const,
        source,
        text: messageWords(message, this.#player(source)) + aside,
        bytes: byteWords(raw),
      }))
    })
  }

  /** Several players may share a port, each with channels of its own. */
  #listeners(
    players: readonly PlayerId[],
    message: DecodeOut,
  ): readonly { readonly source: PlayerId; readonly aside: string }[] {
    const first = players.slice(0, 1)
    if (!('channel' in message)) return first.map((source) => ({ source, aside: '' }))
    const { channel } = message
    const those = players.filter((id) =>
      this.#show.players.some((player) => player.id === id && player.input.channels.includes(channel)),
    )
    return those.length > 0
      ? those.map((source) => ({ source, aside: '' }))
      : first.map((source) => ({ source, aside: '; no player here has this channel' }))
  }

  #frame(at: Micros, changes: readonly LampChange[]): MonitorEvent[] {
    const lights = changes.map(({ lamp, state }) => ({
      at,
      way: 'light' as const,
      source: lamp,
      text: lampWords(state),
    }))
    const outs = [...this.#wires(changes)].map(([output, theirs]) => ({
      at,
      way: 'out' as const,
      source: output,
      text: theirs.map(({ lamp, state }) => settingWords(this.#name(lamp), state)).join(', '),
    }))
    return [...lights, ...outs]
  }

  #wires(changes: readonly LampChange[]): Map<OutputId, LampChange[]> {
    const byWire = new Map<OutputId, LampChange[]>()
    for (const change of changes) {
      const wire = this.#lamps.get(change.lamp)?.wire
      if (wire !== undefined) byWire.set(wire, [...(byWire.get(wire) ?? []), change])
    }
    return byWire
  }

  #player(id: PlayerId): Player | undefined {
    return this.#show.players.find((player) => player.id === id)
  }

  #name(lamp: string): string {
    return this.#lamps.get(lamp)?.name ?? lamp
  }
}

const REFUSED: Readonly<Record<RefusalReason, string>> = {
  supply: 'its supply is at its limit',
  range: 'no octave of the note is in its range',
  claimed: 'another part has it',
  unmapped: 'its tuning has no pitch for the key',
}

const DROPPED = {
  floor: 'softer than the floor',
  mask: 'a bounce',
  crosstalk: 'the stand shaking',
  ghost: 'too short for a note',
} as const

type Dropped = Extract<Extract<TapEvent, { kind: 'player' }>['event'], { kind: 'dropped' }>

function droppedWords({ key, channel, why }: Dropped, player: Player | undefined): string {
  return `${playedKeyName(player, key)} on channel ${channel} not taken for a note: ${DROPPED[why]}`
}
