import type { EncoderOut } from '../../src/outputs/encoder-event.ts'

/** What a lamp box at the other end of a MIDI cable holds: keys down and bend of each channel. Throws at what no sender may do. */
export class MidiReceiver {
  readonly bends = new Map<number, number>()
  readonly #keys = new Map<number, number[]>()

  /** All that leaves in one moment. */
  take(out: readonly EncoderOut[]): void {
    let struck = false
    for (const one of out) {
      if (one.kind !== 'message') throw new Error('bytes for a MIDI port')
      const { message } = one
      if (message.type === 'bend') this.bends.set(message.channel, message.value)
      if (message.type !== 'note-off' && message.type !== 'note-on') continue
      const { channel, key } = message
      const down = this.down(channel)
      if (message.type === 'note-off') {
        if (struck) throw new Error(`off ${key} after an on of the same moment`)
        if (!down.includes(key)) throw new Error(`off ${key}, which is not down`)
        this.#keys.set(
          channel,
          down.filter((other) => other !== key),
        )
      } else {
        struck = true
        if (down.includes(key)) throw new Error(`on ${key}, which is down`)
        this.#keys.set(channel, [...down, key])
      }
    }
  }

  down(channel: number): readonly number[] {
    return this.#keys.get(channel) ?? []
  }

  all(): number[] {
    return [...this.#keys.values()].flat()
  }
}
