import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Player } from '../../src/domain/player.ts'
import type { Show } from '../../src/domain/show.ts'
import { type Micros, MICROS_PER_MS } from '../../src/domain/units.ts'
import { offsFirst } from '../../src/graph/input-order.ts'
import { readMidiFile } from '../../src/midi/file-read.ts'
import { describeFileError, describeWarning } from '../../src/midi/file-words.ts'
import type { MidiFile } from '../../src/midi/file.ts'
import { routeTake } from '../../src/offline/take.ts'

/** What is played at one time: into which port, in the order it is sent. */
export interface DemoMoment {
  readonly at: Micros
  readonly sent: readonly { readonly port: string; readonly message: MidiMessage }[]
}

export interface DemoTake {
  readonly moments: readonly DemoMoment[]
  /** From its start to its start again: its length and two beats. */
  readonly period: Micros
  readonly endsAt: Micros
  /** Notes that feed no player, for a person. */
  readonly warnings: readonly string[]
}

/** A tempo that a file does not say. MIDI 1.0, Standard MIDI Files: 120 beats a minute. */
const USUAL_BEAT: Micros = 500_000
/** However fast the take, and however short. */
const SHORTEST_PAUSE: Micros = 100 * MICROS_PER_MS

/** A Standard MIDI File in base64. Words say what is wrong and what to do. */
export function readDemoFile(
  base64: string,
):
  | { readonly ok: true; readonly file: MidiFile; readonly warnings: readonly string[] }
  | { readonly ok: false; readonly message: string } {
  if (!/^[A-Za-z0-9+/\s]*={0,2}\s*$/u.test(base64))
    return { ok: false, message: 'the take is not in base64. Send the bytes of a Standard MIDI File so.' }
  const read = readMidiFile(Buffer.from(base64, 'base64'))
  if (!read.ok) return { ok: false, message: describeFileError(read.error) }
  return { ok: true, file: read.file, warnings: read.file.warnings.map(describeWarning) }
}

/**
 * The take as a show's players play it, each track by the player that `render` gives it to. A port carries channels: what a player plays on one that it
 * does not listen to is moved to one that it does, other channels to others as far as there are any.
 */
export function demoTake(file: MidiFile, show: Show): DemoTake {
  const routed = routeTake(file, show)
  // Without a map nothing can be amiss with it.
  if (!routed.ok) throw new Error(`${routed.what}; ${routed.todo}`)
  const { take } = routed
  const players = new Map(show.players.map((player) => [player.id, player]))
  const moments: DemoMoment[] = []
  for (let first = 0; first < take.events.length;) {
    const at = take.events[first]?.at ?? 0
    let end = first
    while (take.events[end]?.at === at) end++
    const { offs, rest } = offsFirst(take.events.slice(first, end))
    const sent = [...offs, ...rest].flatMap(({ player: id, message }) => {
      const player = players.get(id)
      return player ? [{ port: player.input.port, message: onItsChannel(message, player) }] : []
    })
    moments.push({ at, sent })
    first = end
  }
  const endsAt = Math.max(take.endsAt, moments.at(-1)?.at ?? 0)
  const beat = file.tempos.at(-1)?.microsPerBeat ?? USUAL_BEAT
  return { moments, endsAt, period: endsAt + Math.max(SHORTEST_PAUSE, 2 * beat), warnings: take.warnings }
}

function onItsChannel(message: MidiMessage, { input: { channels } }: Player): MidiMessage {
  if (!('channel' in message) || channels.includes(message.channel)) return message
  const channel = channels[(message.channel - 1) % channels.length]
  return channel === undefined ? message : { ...message, channel }
}
