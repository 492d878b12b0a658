import type { Hz } from '../../src/domain/units.ts'

interface EarChannel {
  /** Cents of a full bend. */
  range: number
  /** 0..16383. */
  bend: number
  parameter: readonly [number, number]
  readonly down: Set<number>
}

const EQUAL = (semitones: number): Hz => 440 * 2 ** ((semitones - 69) / 12)
const NULL = [127, 127] as const

/**
 * What an instrument at the end of a MIDI cable sounds, from the bytes alone, read by itself: notes, bends of so many bits, registered parameters 0 and 6 (MIDI 1.0 Detailed
 * Specification; MIDI Polyphonic Expression 1.0), and another one beside it that goes by the MIDI Tuning Standard. Switched on it knows nothing: a bend range of 2
 * semitones (General MIDI 1, from memory), no zone, equal steps at 440 Hz.
 */
export class MidiEar {
  readonly #bits: number
  readonly #channels: EarChannel[] = Array.from({ length: 16 }, () => ({
    range: 200,
    bend: 8192,
    parameter: NULL,
    down: new Set<number>(),
  }))
  /** Member channels of the lower zone, from 2. */
  #members = 0
  readonly #programs = new Map<number, Map<number, Hz>>()
  #octave: readonly number[] = Array<number>(12).fill(0)
  /** Of tuning messages. */
  longest = 0
  tuned = 0

  constructor(bits = 14) {
    this.#bits = bits
  }

  /** One whole message, with its status. */
  take(bytes: Uint8Array): void {
    const [status = 0, one = 0, two = 0] = bytes
    if (status === 0xf0) return this.#tune(bytes)
    const channel = this.#channels[status & 15]
    if (!channel) throw new Error('no channel')
    switch (status & 0xf0) {
      case 0x80:
        channel.down.delete(one)
        return
      case 0x90:
        if (two === 0) channel.down.delete(one)
        else channel.down.add(one)
        return
      case 0xe0:
        channel.bend = (two << 7) | one
        return
      case 0xb0:
        return this.#control(channel, status & 15, one, two)
    }
  }

  /** Hz of the one key that is down there; undefined: none. Throws where there are several. */
  pitch(channel: number): Hz | undefined {
    const own = this.#channels[channel - 1]
    if (!own || own.down.size === 0) return undefined
    if (own.down.size > 1) throw new Error(`${own.down.size} keys are down on channel ${channel}`)
    const [key = 0] = own.down
    const manager = this.#channels[0]
    const isMember = channel > 1 && channel <= 1 + this.#members
    const cents = bentBy(own, this.#bits) + (isMember && manager ? bentBy(manager, this.#bits) : 0)
    return EQUAL(key + cents / 100)
  }

  /** What a key sounds on the instrument that goes by tuning messages, in a tuning program. */
  tunedHz(program: number, key: number): Hz {
    return this.#programs.get(program)?.get(key) ?? EQUAL(key + (this.#octave[key % 12] ?? 0) / 100)
  }

  #control(channel: EarChannel, index: number, controller: number, value: number): void {
    const [msb, lsb] = channel.parameter
    if (controller === 101) channel.parameter = [value, lsb]
    if (controller === 100) channel.parameter = [msb, value]
    if (msb !== 0) return
    if (lsb === 0 && controller === 6) channel.range = value * 100
    if (lsb === 0 && controller === 38) channel.range += value
    if (lsb !== 6 || controller !== 6 || index !== 0) return
    this.#members = value
    this.#channels.forEach((one, at) => {
      if (at > 0 && at <= value) one.range = 4800
    })
    channel.range = 200
  }

  #tune(bytes: Uint8Array): void {
    const [, kind, , sub, form, program = 0, count = 0] = bytes
    if (sub !== 8 || bytes.at(-1) !== 0xf7) throw new Error('no whole tuning message')
    this.longest = Math.max(this.longest, bytes.length)
    this.tuned++
    const table = this.#programs.get(program) ?? new Map<number, Hz>()
    const set = (key: number, at: number): void => {
      const [xx = 0, yy = 0, zz = 0] = bytes.slice(at, at + 3)
      if (xx + yy + zz < 3 * 127) table.set(key, EQUAL(xx + (yy * 128 + zz) / 16384))
    }
    if (kind === 0x7f && form === 2) {
      if (bytes.length !== 8 + 4 * count) throw new Error('the count is wrong')
      for (let at = 0; at < count; at++) set(bytes[7 + 4 * at] ?? 0, 8 + 4 * at)
      this.#programs.set(program, table)
    } else if (kind === 0x7e && form === 1) {
      if (bytes.length !== 408) throw new Error('a dump is 408 bytes')
      if ((bytes.slice(1, -2).reduce((sum, byte) => sum ^ byte, 0) & 0x7f) !== bytes.at(-2))
        throw new Error('the checksum is wrong')
      for (let key = 0; key < 128; key++) set(key, 22 + 3 * key)
      this.#programs.set(program, table)
    } else if (form === 8) {
      this.#octave = Array.from(bytes.slice(8, 20), (value) => value - 64)
    } else if (form === 9) {
      const at = (place: number) => (bytes[8 + 2 * place] ?? 0) * 128 + (bytes[9 + 2 * place] ?? 0)
      this.#octave = Array.from({ length: 12 }, (_, place) => ((at(place) - 8192) * 100) / 8192)
    } else throw new Error(`a form ${form} that nobody knows`)
  }
}

/** Cents. The receiver takes its upper bits alone. */
function bentBy({ bend, range }: EarChannel, bits: number): number {
  const step = 2 ** (14 - bits)
  return ((Math.floor(bend / step) * step - 8192) / 8192) * range
}
