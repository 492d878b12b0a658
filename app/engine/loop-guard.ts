import type { Micros } from '../../src/domain/units.ts'

/** What to do about an input after a message from it. */
export type LoopVerdict =
  | { readonly kind: 'pass' }
  /** Our own probe: not for the players. */
  | { readonly kind: 'probe-returned' }
  /** Looks like our own output coming back: send these bytes to the outputs, to be sure. */
  | { readonly kind: 'probe'; readonly bytes: Uint8Array }
  /** It is our own output. */
  | { readonly kind: 'cut' }

/** Within this time what we sent counts as what came back. */
const WINDOW: Micros = 50_000
/** So many of our own messages back within the window raise the suspicion. A knob that trembles can do that; the probe tells. */
const SUSPICIOUS = 3
/** So many are no player, and not every device lets a probe through. */
const CERTAIN = 60
/** After a probe that did not come back, no other for this long. */
const PATIENCE: Micros = 1_000_000
/** Clocks come back as clocks come in; so many in the window are no clock of a tune any more. */
const MOST_CLOCKS = 40

interface InputState {
  /** When each of our messages came back. */
  returns: Micros[]
  clocks: Micros[]
  probedAt: Micros
  cut: boolean
}

/**
 * Notices our own output coming back in. Each message sent is remembered for 50 ms; what comes in and equals one is a return. Three returns make a probe (a
 * system exclusive of the non-commercial number 7D, MIDI 1.0 Detailed Specification) go out; a probe that comes back is proof. Sixty returns are proof without.
 */
export class LoopGuard {
  /** What we sent and when, by its bytes. */
  readonly #sent = new Map<string, Micros[]>()
  readonly #inputs = new Map<string, InputState>()
  readonly #probe: Uint8Array
  #lastSweep: Micros = 0

  /** `nonce` 0..16383 tells our probes from those of another of us on the same wires. */
  constructor(nonce: number) {
    this.#probe = Uint8Array.of(0xf0, 0x7d, 0x4c, 0x61, nonce & 0x7f, (nonce >> 7) & 0x7f, 0xf7)
  }

  sent(bytes: Uint8Array, at: Micros): void {
    if (isClock(bytes)) return
    const key = keyOf(bytes)
    const times = this.#sent.get(key)
    if (times) times.push(at)
    else this.#sent.set(key, [at])
    this.#sweep(at)
  }

  heard(input: string, bytes: Uint8Array, at: Micros): LoopVerdict {
    const state = this.#stateOf(input)
    if (isSame(bytes, this.#probe)) {
      if (state.cut) return { kind: 'probe-returned' }
      state.cut = true
      return { kind: 'cut' }
    }
    if (state.cut || !this.#isReturn(state, bytes, at)) return { kind: 'pass' }
    const returns = Math.max(state.returns.length, state.clocks.length > MOST_CLOCKS ? SUSPICIOUS : 0)
    if (state.returns.length >= CERTAIN || state.clocks.length >= CERTAIN) {
      state.cut = true
      return { kind: 'cut' }
    }
    if (returns < SUSPICIOUS || at - state.probedAt < PATIENCE) return { kind: 'pass' }
    state.probedAt = at
    return { kind: 'probe', bytes: this.#probe }
  }

  /** Whether the input's messages are to be dropped. */
  isCut(input: string): boolean {
    return this.#inputs.get(input)?.cut ?? false
  }

  /** Begins anew with an input: it was plugged again, or somebody says that it is well. */
  forgive(input: string): void {
    this.#inputs.delete(input)
  }

  #stateOf(input: string): InputState {
    const known = this.#inputs.get(input) ?? { returns: [], clocks: [], probedAt: -PATIENCE, cut: false }
    this.#inputs.set(input, known)
    return known
  }

  #isReturn(state: InputState, bytes: Uint8Array, at: Micros): boolean {
    const recent = (time: Micros): boolean => at - time <= WINDOW
    if (isClock(bytes)) {
      state.clocks = [...state.clocks.filter(recent), at]
      return state.clocks.length > MOST_CLOCKS
    }
    const times = this.#sent.get(keyOf(bytes))
    if (!times) return false
    const first = times.findIndex(recent)
    // What is too old is forgotten; the oldest that is not is what came back.
    times.splice(0, first < 0 ? times.length : first + 1)
    if (first < 0) return false
    state.returns = [...state.returns.filter(recent), at]
    return true
  }

  #sweep(at: Micros): void {
    if (at - this.#lastSweep < WINDOW) return
    this.#lastSweep = at
    for (const [key, times] of this.#sent) {
      if (times.every((time) => at - time > WINDOW)) this.#sent.delete(key)
    }
  }
}

function isClock(bytes: Uint8Array): boolean {
  return bytes.length === 1 && (bytes[0] ?? 0) >= 0xf8
}

function keyOf(bytes: Uint8Array): string {
  // Long system exclusives are not worth their memory: the first bytes tell them apart well enough.
  return String.fromCharCode(...bytes.subarray(0, 64))
}

function isSame(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index])
}
