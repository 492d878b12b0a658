import { decode, type DecodeOut, type DecoderState } from '../../src/midi/decode.ts'

/** What the decoder makes of pieces given one after the other. */
export function decodePieces(
  pieces: readonly (readonly number[])[],
  between: (state: DecoderState) => DecoderState = (state) => state,
): DecodeOut[] {
  let state = decode.start()
  const out: DecodeOut[] = []
  for (const piece of pieces) {
    const step = decode.step(state, piece, 0)
    for (const message of step.out) out.push(message)
    state = between(step.state)
  }
  return out
}

export function decodeBytes(...bytes: number[]): DecodeOut[] {
  return decodePieces([bytes])
}

export function noteOn(key: number, velocity: number, channel = 1): DecodeOut {
  return { type: 'note-on', channel, key, velocity }
}

export function noteOff(key: number, velocity: number, channel = 1): DecodeOut {
  return { type: 'note-off', channel, key, velocity }
}
