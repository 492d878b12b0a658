import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Channel, Key } from '../../src/domain/units.ts'

const CENTRE = 8192
/** Damper, sostenuto: what holds notes after their keys are up. MIDI 1.0 Detailed Specification. */
const PEDALS: readonly number[] = [64, 66]

/** What an instrument left down: keys, pedals, bends. */
export class HeldNotes {
  readonly #keys = new Map<string, { readonly channel: Channel; readonly key: Key }>()
  readonly #pedals = new Map<string, { readonly channel: Channel; readonly controller: number }>()
  readonly #bends = new Set<Channel>()

  note(message: MidiMessage): void {
    switch (message.type) {
      case 'note-on':
        this.#keys.set(`${message.channel} ${message.key}`, message)
        return
      case 'note-off':
        this.#keys.delete(`${message.channel} ${message.key}`)
        return
      case 'controller': {
        const which = `${message.channel} ${message.controller}`
        if (PEDALS.includes(message.controller) && message.value > 0) this.#pedals.set(which, message)
        else this.#pedals.delete(which)
        return
      }
      case 'bend':
        if (message.value === CENTRE) this.#bends.delete(message.channel)
        else this.#bends.add(message.channel)
    }
  }

  /** Messages that end all of it; nothing is held after them. */
  end(): MidiMessage[] {
    const messages: MidiMessage[] = [
      ...[...this.#keys.values()].map(
        ({ channel, key }) => ({ type: 'note-off', channel, key, velocity: 64 }) as const,
      ),
      ...[...this.#pedals.values()].map(
        ({ channel, controller }) => ({ type: 'controller', channel, controller, value: 0 }) as const,
      ),
      ...[...this.#bends].map((channel) => ({ type: 'bend', channel, value: CENTRE }) as const),
    ]
    this.#keys.clear()
    this.#pedals.clear()
    this.#bends.clear()
    return messages
  }
}
