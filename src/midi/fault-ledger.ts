import type { MidiMessage } from '../domain/midi-message.ts'
import { malformed, type Malformed } from './malformed.ts'

/** What can go wrong in a stream of MIDI bytes, and the words for it. */
export const STREAM_FAULTS = {
  stray: 'data byte(s) without a status byte; ignored',
  undefined: 'status byte(s) that MIDI 1.0 does not define (F4 F5 F9 FD); ignored',
  unfinished: 'message(s) cut off by the next status byte; dropped',
  end: 'end of system exclusive (F7) where none had begun; ignored',
  broken: 'system exclusive broken off by another status byte; dropped whole',
  oversized: 'system exclusive longer than 1 MiB; dropped whole',
  number: 'number(s) that are not bytes (0 to 255); ignored',
} as const
export type StreamFault = keyof typeof STREAM_FAULTS

/** Bytes lost since the last good message and not yet told, by fault. */
export type FaultLedger = Readonly<Partial<Record<StreamFault, number>>>

/** So many lost bytes of one fault are told at once even if no good message ever comes. */
const TELL_EVERY = 4096

/**
 * Counts lost bytes so that noise on a cable gives few reports, however the bytes are cut: the first of a kind after a
 * good message is told at once, the others together before the next good message. Lives within one step of the decoder.
 */
export class FaultCounter {
  private ledger: FaultLedger | null
  private readonly out: (MidiMessage | Malformed)[]

  constructor(ledger: FaultLedger | null, out: (MidiMessage | Malformed)[]) {
    this.ledger = ledger
    this.out = out
  }

  add(fault: StreamFault, bytes: number): void {
    const before = this.ledger?.[fault]
    let waiting = (before ?? 0) + bytes
    if (before === undefined || waiting >= TELL_EVERY) {
      this.tell(fault, waiting)
      waiting = 0
    }
    this.ledger = { ...this.ledger, [fault]: waiting }
  }

  /** To be called before a good message is put out. */
  settle(): void {
    if (this.ledger === null) return
    for (const [fault, waiting] of Object.entries(this.ledger)) {
      if (waiting > 0) this.tell(fault as StreamFault, waiting)
    }
    this.ledger = null
  }

  left(): FaultLedger | null {
    return this.ledger
  }

  private tell(fault: StreamFault, bytes: number): void {
    this.out.push(malformed(STREAM_FAULTS[fault], bytes))
  }
}
