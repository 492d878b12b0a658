import type { Channel, Hz, Key } from '../../src/domain/units.ts'

interface ReceiverChannel {
  readonly down: Set<Key>
  readonly controllers: Map<number, number>
  bend: number
  /** Semitones each way, as RPN 0 says; 2 until it does. */
  range: number
}

/**
 * A lamp box with a MIDI socket, from the bytes alone (MIDI 1.0 Detailed Specification): keys down, bend, bend range by RPN 0 and controllers of
 * each channel. Throws at what no sender may do.
 */
export class MidiLampBox {
  readonly #channels = new Map<Channel, ReceiverChannel>()

  /** One whole message, its status byte first. */
  take(bytes: Uint8Array): void {
    const [status = 0, first = 0, second = 0] = bytes
    const channel = this.#channel((status & 15) + 1)
    switch (status >> 4) {
      case 0x8:
        if (!channel.down.delete(first)) throw new Error(`off ${first}, which is not down`)
        return
      case 0x9:
        if (channel.down.has(first) || second === 0) throw new Error(`on ${first}, velocity ${second}`)
        channel.down.add(first)
        return
      case 0xb:
        channel.controllers.set(first, second)
        if (first === 6 && channel.controllers.get(101) === 0 && channel.controllers.get(100) === 0)
          channel.range = second
        return
      case 0xe:
        channel.bend = first + 128 * second
        return
      default:
        throw new Error(`status ${status.toString(16)} on a lamp's cable`)
    }
  }

  /** What flashes on a channel that is one lamp: Hz, or undefined where it is dark. */
  hz(channel: Channel): Hz | undefined {
    const { down, bend, range } = this.#channel(channel)
    const [key] = down
    if (down.size > 1) throw new Error(`${down.size} keys down on channel ${channel}, which is one lamp`)
    return key === undefined ? undefined : 440 * 2 ** ((key - 69 + ((bend - 8192) / 8192) * range) / 12)
  }

  controller(channel: Channel, controller: number): number | undefined {
    return this.#channel(channel).controllers.get(controller)
  }

  range(channel: Channel): number {
    return this.#channel(channel).range
  }

  #channel(channel: Channel): ReceiverChannel {
    const known = this.#channels.get(channel) ?? {
      down: new Set(),
      controllers: new Map(),
      bend: 8192,
      range: 2,
    }
    this.#channels.set(channel, known)
    return known
  }
}
