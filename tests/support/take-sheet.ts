import type { MidiMessage } from '../../src/domain/midi-message.ts'
import { type Seed, nextRandom } from '../../src/domain/random.ts'
import type { Beats, Bpm, Channel, Key, Micros, Velocity } from '../../src/domain/units.ts'

export interface SheetEvent {
  readonly at: Micros
  readonly message: MidiMessage
}

/** Writes down what one player does, in beats; a trailing `ms` moves an event by so many milliseconds. */
export class TakeSheet {
  readonly events: SheetEvent[] = []
  readonly #beat: number
  #seed: Seed

  constructor(tempo: Bpm, seed: Seed) {
    this.#beat = 60_000_000 / tempo
    this.#seed = seed
  }

  /** A whole number from `low` to `high`, both included. */
  draw(low: number, high: number): number {
    const { value, seed } = nextRandom(this.#seed)
    this.#seed = seed
    return low + Math.floor(value * (high - low + 1))
  }

  send(beat: Beats, message: MidiMessage, ms = 0): void {
    this.events.push({ at: Math.round(beat * this.#beat + ms * 1000), message })
  }

  on(channel: Channel, beat: Beats, key: Key, velocity: Velocity, ms = 0): void {
    this.send(beat, { type: 'note-on', channel, key, velocity }, ms)
  }

  off(channel: Channel, beat: Beats, key: Key, ms = 0): void {
    this.send(beat, { type: 'note-off', channel, key, velocity: 64 }, ms)
  }

  note(channel: Channel, beat: Beats, length: Beats, key: Key, velocity: Velocity): void {
    this.on(channel, beat, key, velocity)
    this.off(channel, beat + length, key)
  }

  control(channel: Channel, beat: Beats, controller: number, value: number): void {
    this.send(beat, { type: 'controller', channel, controller, value })
  }

  bend(channel: Channel, beat: Beats, value: number, ms = 0): void {
    this.send(beat, { type: 'bend', channel, value }, ms)
  }

  /** RPN 0 in whole semitones (MIDI 1.0 Detailed Specification). */
  bendRange(channel: Channel, semitones: number): void {
    this.send(0, { type: 'parameter', registered: true, channel, parameter: 0, value: semitones << 7 })
  }
}
