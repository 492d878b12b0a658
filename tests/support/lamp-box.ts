import type { OutputId } from '../../src/domain/ids.ts'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../src/outputs/serial-decoder.ts'
import type { LampSetting, SerialFrame } from '../../src/outputs/serial-frame.ts'

/** What a lamp box at the other end of a serial line holds: rate and duty of each slot, dark at first. Throws at a frame no host may send. */
export class LampBox {
  readonly slots = new Map<number, Pick<LampSetting, 'rate' | 'duty'>>()
  frames = 0
  readonly #output: OutputId
  #decoder = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  #greeted = false

  constructor(output: OutputId) {
    this.#output = output
  }

  take(bytes: Uint8Array): void {
    const { state, out } = serialDecoder.step(this.#decoder, { kind: 'bytes', bytes }, 0)
    this.#decoder = state
    for (const one of out) {
      if (one.kind === 'damaged') throw new Error(`${this.#output}: a damaged frame (${one.damage})`)
      this.#obey(one.frame)
    }
  }

  /** Bytes of a frame that has not ended. */
  get unfinished(): number {
    return this.#decoder.length
  }

  #obey(frame: SerialFrame): void {
    if (frame.sequence !== this.frames % 256)
      throw new Error(`${this.#output}: frame ${frame.sequence} after ${this.frames - 1}`)
    this.frames++
    if (frame.type !== 'hello' && !this.#greeted)
      throw new Error(`${this.#output}: ${frame.type} before hello`)
    switch (frame.type) {
      case 'hello':
        this.#greeted = true
        return
      case 'set':
        for (const { slot, rate, duty } of frame.lamps) this.slots.set(slot, { rate, duty })
        return
      case 'dark':
        this.slots.clear()
        return
      case 'beat':
        return
      default:
        throw new Error(`${this.#output}: the host sent ${frame.type}`)
    }
  }

  slot(slot: number): Pick<LampSetting, 'rate' | 'duty'> {
    return this.slots.get(slot) ?? { rate: 0, duty: 0 }
  }
}
