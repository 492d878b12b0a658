import type { MidiMessage } from '../domain/midi-message.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import { FaultCounter, type FaultLedger } from './fault-ledger.ts'
import type { Malformed } from './malformed.ts'
import { dataBytesOf, messageOfBytes } from './message-of-bytes.ts'
import { addPiece, joinPieces, NO_PIECES, type SysexPieces } from './sysex-pieces.ts'

export type DecodeOut = MidiMessage | Malformed

export interface DecoderState {
  /** The channel status that data bytes may do without; 0: none. */
  readonly running: number
  /** The status whose data bytes are awaited; 0: none. */
  readonly status: number
  /** The first of two data bytes, once there; -1: not yet. */
  readonly first: number
  /** Bytes of the awaited message so far, to say what is lost when it is cut off. */
  readonly spent: number
  /** The system exclusive under way, without its F0. */
  readonly sysex: SysexPieces | null
  /** The system exclusive under way grew too long and is only read past. */
  readonly skipping: boolean
  readonly faults: FaultLedger | null
}

/** Longest system exclusive kept, in data bytes, so that an F7 lost on the way cannot fill the memory. Our own choice. */
export const MAX_SYSEX = 1 << 20

const START: DecoderState = {
  running: 0,
  status: 0,
  first: -1,
  spent: 0,
  sysex: null,
  skipping: false,
  faults: null,
}

/**
 * MIDI 1.0 bytes, cut into pieces in any way, to messages (MIDI 1.0 Detailed Specification: running status, real-time
 * bytes anywhere, system exclusive). What makes no message comes out as `malformed` with the bytes it cost; no input throws.
 */
export const decode: Stage<void, DecoderState, readonly number[] | Uint8Array, DecodeOut> = {
  name: 'decode',
  start: () => START,
  step(state, bytes, _now: Micros): Step<DecoderState, DecodeOut> {
    return wholeMessage(state, bytes) ?? readBytes(state, bytes)
  },
}

/** The common case, kept short: exactly one channel message of three bytes, nothing pending. */
function wholeMessage(
  state: DecoderState,
  bytes: readonly number[] | Uint8Array,
): Step<DecoderState, DecodeOut> | undefined {
  if (bytes.length !== 3 || state.status !== 0 || state.faults !== null) return undefined
  if (state.sysex !== null || state.skipping) return undefined
  const status = bytes[0] as number
  const first = bytes[1] as number
  const second = bytes[2] as number
  if ((status | first | second) >>> 8 !== 0 || status < 0x80 || status >= 0xf0) return undefined
  if ((first | second) > 0x7f || dataBytesOf(status) !== 2) return undefined
  if (!Number.isInteger(status) || !Number.isInteger(first) || !Number.isInteger(second)) return undefined
  const next = state.running === status ? state : { ...state, running: status }
  return { state: next, out: [messageOfBytes(status, first, second)] }
}

function readBytes(
  state: DecoderState,
  bytes: readonly number[] | Uint8Array,
): Step<DecoderState, DecodeOut> {
  const out: DecodeOut[] = []
  const faults = new FaultCounter(state.faults, out)
  let { running, status, first, spent, sysex, skipping } = state
  let fresh: number[] = []

  const emit = (message: MidiMessage): void => {
    faults.settle()
    out.push(message)
  }
  const dropUnfinished = (): void => {
    if (spent > 0) faults.add('unfinished', spent)
    if (sysex !== null) faults.add('broken', sysex.length + fresh.length + 1)
    status = 0
    first = -1
    spent = 0
    sysex = null
    skipping = false
    fresh = []
  }
  const onData = (byte: number): void => {
    if (skipping) return faults.add('oversized', 1)
    if (sysex !== null) {
      fresh.push(byte)
      if (sysex.length + fresh.length <= MAX_SYSEX) return
      faults.add('oversized', sysex.length + fresh.length + 1)
      sysex = null
      skipping = true
      fresh = []
      return
    }
    if (status === 0) {
      if (running === 0) return faults.add('stray', 1)
      status = running
    }
    spent++
    if (first < 0 && dataBytesOf(status) === 2) {
      first = byte
      return
    }
    emit(first < 0 ? messageOfBytes(status, byte, 0) : messageOfBytes(status, first, byte))
    status = 0
    first = -1
    spent = 0
  }
  const onEndOfSysex = (): void => {
    if (skipping) faults.add('oversized', 1)
    else if (sysex === null) {
      dropUnfinished()
      faults.add('end', 1)
    } else emit({ type: 'sysex', data: joinPieces(sysex, fresh) })
    sysex = null
    skipping = false
    fresh = []
    running = 0
  }
  const onStatus = (byte: number): void => {
    if (byte === 0xf7) return onEndOfSysex()
    dropUnfinished()
    running = byte < 0xf0 ? byte : 0
    if (byte === 0xf0) {
      sysex = NO_PIECES
      return
    }
    const needed = dataBytesOf(byte)
    if (needed < 0) faults.add('undefined', 1)
    else if (needed === 0) emit(messageOfBytes(byte, 0, 0))
    else {
      status = byte
      spent = 1
    }
  }

  const length = bytes.length
  for (let i = 0; i < length; i++) {
    const byte = bytes[i] as number
    if (byte !== (byte & 0xff)) faults.add('number', 1)
    else if (byte < 0x80) onData(byte)
    else if (byte < 0xf8) onStatus(byte)
    else if (dataBytesOf(byte) < 0) faults.add('undefined', 1)
    else emit(messageOfBytes(byte, 0, 0))
  }
  if (sysex !== null) sysex = addPiece(sysex, fresh)
  return { state: { running, status, first, spent, sysex, skipping, faults: faults.left() }, out }
}
